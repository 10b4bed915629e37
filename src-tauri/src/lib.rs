//! The phone shell. It carries what the screens ask to the one door, photos
//! beside it, and decides nothing.
//!
//! - `call`: a command in, a reply or a problem out.
//! - `put_photo`: a photo's bytes in, its name out.
//! - `hand_over`, `hand_over_everything`: a file out, to the share sheet or the downloads.
//! - `handed_in`, `take_in`: a link or an export that the app was opened with.
//! - `strays`, `drop_stray`: photos of the phone's own camera that never arrived.
//! - `keep_awake`: the screen kept awake, on a phone.
//! - `swarf://localhost/photo/NAME?w=WIDTH`: a copy of a photo out.

mod awake;
mod call;
mod darkroom;
mod door;
mod handover;
mod photo_in;
mod photo_out;
mod start;
mod strays;

use std::path::PathBuf;
use std::sync::Arc;

use swarfbook_app::App;
use tauri::{Builder, Runtime};

use crate::darkroom::Darkroom;
use crate::door::Door;
use crate::handover::Handover;
use crate::strays::Taken;

/// Wires the commands and the photo scheme onto a builder, on an app that is
/// open already; files go out to `outbox`, the app was opened with `opened`, and the
/// phone's own camera writes into `taken`.
/// For tests that drive the shell without a window.
pub fn builder<R: Runtime>(
    builder: Builder<R>,
    app: App,
    outbox: PathBuf,
    opened: Option<String>,
    taken: Option<PathBuf>,
) -> Builder<R> {
    wire(builder)
        .manage(Door::open(app))
        .manage(Handover::new(outbox, opened))
        .manage(Taken(taken))
}

/// The shell's real configuration: its content policy and what its window may
/// call.
#[must_use]
pub fn context<R: Runtime>() -> tauri::Context<R> {
    tauri::generate_context!()
}

fn wire<R: Runtime>(builder: Builder<R>) -> Builder<R> {
    let darkroom = Arc::new(Darkroom::new());
    builder
        .invoke_handler(tauri::generate_handler![
            call::call,
            photo_in::put_photo,
            handover::outward::hand_over,
            handover::outward::hand_over_everything,
            handover::inward::handed_in,
            handover::inward::take_in,
            strays::strays,
            strays::drop_stray,
            awake::keep_awake,
        ])
        .plugin(handover::plugin())
        .register_asynchronous_uri_scheme_protocol("swarf", move |context, request, responder| {
            photo_out::answer(context.app_handle(), &darkroom, request, responder);
        })
}

/// Opens the window and stays until it is closed.
// Android looks for the entry point by its unmangled name, which counts as
// unsafe; the macro writes it.
#[cfg_attr(mobile, allow(unsafe_code), tauri::mobile_entry_point)]
pub fn run() {
    let shell = wire(Builder::default()).setup(start::start).run(context());
    if let Err(error) = shell {
        eprintln!("Swarfbook could not open its window: {error}.");
        std::process::exit(1);
    }
}
