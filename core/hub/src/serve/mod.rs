//! The hub: screens, door, photos and sync over HTTPS, and over HTTP on its own machine.
//!
//! Three kinds of caller: the person who has the key in the printed address, known by a
//! session that it began; paired devices under `/sync/`, known by
//! their signatures; and the customer under `/r/`, known by a link.

mod browsers;
mod certificates;
mod clear;
mod customer;
mod deadline;
mod door;
mod guard;
mod guesses;
mod headers;
mod key;
mod language;
mod listen;
mod log;
mod long;
mod metrics;
mod page;
mod pairing;
mod photo;
mod refuse;
mod sessions;
mod sync;
mod tries;
pub(crate) mod ui;
mod wire;

use std::net::SocketAddr;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::routing::{any, get, post};
use swarfbook_app::App;
use swarfbook_app::problem::Problem;
use swarfbook_job::id::DeviceId;
use swarfbook_sync::auth::{Gate, PairCode};
use tokio::sync::Semaphore;
use tower_http::timeout::RequestBodyTimeoutLayer;

use guesses::Guesses;
use long::LongWorkPlaces;
use metrics::Counts;
use sessions::Sessions;

pub use certificates::{Certificates, Pem};
pub use customer::Form;
pub use key::Key;
pub use listen::run;
pub use log::Log;

/// What a request may weigh that is no photo, in bytes: one entry and its wrapping.
const MAX_CALL_BYTES: usize = 8 * 1024 * 1024;

/// Photos taken in at the same time: each is held, then decoded whole in memory.
const PHOTOS_IN_AT_ONCE: usize = 3;
/// Photos copied at the same time, beside those that come in, which may be slow.
const PHOTOS_OUT_AT_ONCE: usize = 3;

/// What the routes share.
#[derive(Clone)]
pub struct Hub {
    app: Arc<App>,
    /// The names that phones may know it by: its own, and those of before it was restored,
    /// which is done while no hub runs.
    names: Arc<[DeviceId]>,
    certificates: Arc<Certificates>,
    reached: Option<SocketAddr>,
    sessions: Arc<Mutex<Sessions>>,
    photos_in: Arc<Semaphore>,
    photos_out: Arc<Semaphore>,
    long_work: LongWorkPlaces,
    gate: Arc<Gate>,
    code: Arc<PairCode>,
    guesses: Arc<Mutex<Guesses>>,
    counts: Arc<Counts>,
    log: Log,
}

impl Hub {
    /// A hub over `app` that shows these certificates; other machines reach it there, if any.
    ///
    /// # Errors
    /// A [`Problem`] when the store can't be read.
    pub fn new(
        app: Arc<App>,
        certificates: Certificates,
        reached: Option<SocketAddr>,
        log: Log,
    ) -> Result<Hub, Problem> {
        let store = app.store();
        let sessions = Sessions::of_store(store)?;
        let mut names = store.earlier_names()?;
        names.push(store.device());
        Ok(Hub {
            app,
            names: names.into(),
            certificates: Arc::new(certificates),
            reached,
            sessions: Arc::new(Mutex::new(sessions)),
            photos_in: Arc::new(Semaphore::new(PHOTOS_IN_AT_ONCE)),
            photos_out: Arc::new(Semaphore::new(PHOTOS_OUT_AT_ONCE)),
            long_work: LongWorkPlaces::on_this_machine(),
            gate: Arc::default(),
            code: Arc::default(),
            guesses: Arc::default(),
            counts: Arc::default(),
            log,
        })
    }

    /// Browsers that were let in. Never taken while something is written.
    fn sessions(&self) -> MutexGuard<'_, Sessions> {
        self.sessions.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Who guessed how often. Taken for that count alone, never while the store or a device is
    /// waited for. Both hold nothing half done when a thread ends early, so a poisoned lock is
    /// as good as any.
    fn guesses(&self) -> MutexGuard<'_, Guesses> {
        self.guesses.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// All routes, ready to be served or called without a socket.
pub fn router(hub: Hub) -> Router {
    Router::new()
        .route("/call", post(door::call))
        .route("/photo", post(photo::put).layer(photo::limit()))
        .route("/photo/{sha}", get(photo::get))
        .route("/verify", get(ui::verifier))
        .route("/r/{secret}", get(customer::open).post(customer::send))
        .route("/pair-code", post(pairing::code))
        .route("/pair", get(pairing::who).post(pairing::who_and_code))
        .route("/pair/remove", post(pairing::remove))
        .route("/browsers", get(browsers::list))
        .route("/browsers/end", post(browsers::end))
        .route("/trust", get(browsers::trust))
        .route("/health", get(metrics::health))
        .route("/metrics", get(metrics::metrics))
        .route("/sync/pair", post(sync::pair))
        .route("/sync/{*rest}", any(sync::answer))
        .fallback(ui::screen)
        .layer(DefaultBodyLimit::max(MAX_CALL_BYTES))
        .layer(RequestBodyTimeoutLayer::new(listen::BODY_PAUSE))
        .layer(from_fn(deadline::time))
        .layer(from_fn_with_state(hub.clone(), guard::guard))
        .layer(from_fn_with_state(hub.clone(), clear::refuse))
        .layer(from_fn(headers::add))
        .layer(from_fn_with_state(hub.clone(), metrics::count))
        .with_state(hub)
}
