//! What goes over the app's own border: files out, to the share sheet of a phone
//! or to a desk's downloads, and what the app was opened with: a pairing link or
//! an export.

pub(crate) mod inward;
pub(crate) mod outward;
#[cfg(target_os = "android")]
pub(crate) mod phone;

use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

use tauri::Runtime;
use tauri::plugin::{Builder, TauriPlugin};

/// Where files that go out are laid down, and what came in and waits.
pub(crate) struct Handover {
    /// On a desk the downloads; on a phone a folder that the share sheet reads from.
    outbox: PathBuf,
    opened: Mutex<Option<String>>,
}

impl Handover {
    /// `opened`: the link or the path of the file that the app was opened with.
    pub(crate) fn new(outbox: PathBuf, opened: Option<String>) -> Handover {
        Handover {
            outbox,
            opened: Mutex::new(opened),
        }
    }

    fn opened(&self) -> std::sync::MutexGuard<'_, Option<String>> {
        self.opened.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The phone's side of it; on a desk there is none.
pub(crate) fn plugin<R: Runtime>() -> TauriPlugin<R> {
    Builder::new("handover")
        .setup(|app, api| {
            #[cfg(target_os = "android")]
            phone::register(app, &api)?;
            #[cfg(not(target_os = "android"))]
            let _ = (app, api);
            Ok(())
        })
        .build()
}
