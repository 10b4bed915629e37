//! The hub: screens, door, photos and sync over HTTP.
//!
//! Three kinds of caller: the person at this machine, known by the key in the
//! printed address (kept as a cookie); paired devices under `/sync/`, known by
//! their signatures; and the customer under `/r/`, known by a link.

mod customer;
mod deadline;
mod door;
mod guard;
mod guesses;
mod headers;
mod language;
mod listen;
mod pairing;
mod photo;
mod refuse;
mod sync;
mod tries;
pub(crate) mod ui;

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::{from_fn, from_fn_with_state};
use axum::routing::{any, get, post};
use swarfbook_app::App;
use swarfbook_app::problem::Problem;
use swarfbook_sync::auth::{Gate, PairCode};
use tokio::sync::Semaphore;
use tower_http::timeout::RequestBodyTimeoutLayer;

use guesses::Guesses;

pub use guard::Key;
pub use listen::run;

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
    key: Key,
    photos_in: Arc<Semaphore>,
    photos_out: Arc<Semaphore>,
    gate: Arc<Mutex<Gate>>,
    code: Arc<Mutex<PairCode>>,
    guesses: Arc<Mutex<Guesses>>,
}

impl Hub {
    /// A hub over `app`, with the key that the store keeps (made at first).
    ///
    /// # Errors
    /// A [`Problem`] when the store or the system's randomness can't be used.
    pub fn new(app: Arc<App>) -> Result<Hub, Problem> {
        let key = Key::of_store(&app)?;
        Ok(Hub {
            app,
            key,
            photos_in: Arc::new(Semaphore::new(PHOTOS_IN_AT_ONCE)),
            photos_out: Arc::new(Semaphore::new(PHOTOS_OUT_AT_ONCE)),
            gate: Arc::default(),
            code: Arc::default(),
            guesses: Arc::default(),
        })
    }

    /// What the printed address carries.
    pub fn key(&self) -> &Key {
        &self.key
    }

    /// What devices asked lately. All three hold nothing half done when a thread
    /// ends early, so a poisoned lock is as good as any.
    fn gate(&self) -> MutexGuard<'_, Gate> {
        self.gate.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Who guessed how often.
    fn guesses(&self) -> MutexGuard<'_, Guesses> {
        self.guesses.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The code that is shown, if any.
    fn code(&self) -> MutexGuard<'_, PairCode> {
        self.code.lock().unwrap_or_else(PoisonError::into_inner)
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
        .route("/sync/pair", post(sync::pair))
        .route("/sync/{*rest}", any(sync::answer))
        .fallback(ui::screen)
        .layer(DefaultBodyLimit::max(MAX_CALL_BYTES))
        .layer(RequestBodyTimeoutLayer::new(listen::BODY_PAUSE))
        .layer(from_fn(deadline::time))
        .layer(from_fn_with_state(hub.clone(), guard::guard))
        .layer(from_fn(headers::add))
        .with_state(hub)
}
