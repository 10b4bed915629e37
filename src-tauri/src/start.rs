//! Where the data lie, and the one window.

use std::error::Error;
use std::path::PathBuf;

use tauri::{Manager, Runtime, WebviewWindowBuilder};

use crate::door::Door;
use crate::handover::Handover;
use crate::strays::Taken;

/// A data folder of the caller's choice: for tests and for `make run-window`.
const DATA: &str = "SWARFBOOK_DATA";

/// A folder of the caller's choice for files that go out: for tests.
const OUTBOX: &str = "SWARFBOOK_OUTBOX";

/// A folder of the caller's choice in place of that which a phone's camera writes into: for tests.
const TAKEN: &str = "SWARFBOOK_TAKEN";

/// Set to 1 to open with the invented demo shop.
const DEMO: &str = "SWARFBOOK_DEMO";

/// Names the data folder, then opens the window: the screens ask at once.
pub(crate) fn start<R: Runtime>(app: &mut tauri::App<R>) -> Result<(), Box<dyn Error>> {
    let folder = match std::env::var_os(DATA).filter(|folder| !folder.is_empty()) {
        Some(folder) => PathBuf::from(folder),
        None => app.path().app_data_dir()?,
    };
    let demo = std::env::var_os(DEMO).is_some_and(|wish| wish == "1");
    if demo && !cfg!(feature = "demo") {
        return Err(format!("{DEMO}=1, but this build has no demo; build it with it").into());
    }
    app.manage(Door::at(folder, demo));
    let outbox = match std::env::var_os(OUTBOX).filter(|folder| !folder.is_empty()) {
        Some(folder) => PathBuf::from(folder),
        None => outbox(app)?,
    };
    // On a desk a link or a file is the first word behind the program's name.
    let opened = std::env::args().nth(1);
    app.manage(Handover::new(outbox, opened));
    app.manage(Taken(taken(app)));
    for window in &app.config().app.windows {
        WebviewWindowBuilder::from_config(app.handle(), window)?.build()?;
    }
    Ok(())
}

/// Where the webview has the phone's own camera write; none where there is no such folder, as
/// while a phone's shared storage is not there.
fn taken<R: Runtime>(app: &tauri::App<R>) -> Option<PathBuf> {
    match std::env::var_os(TAKEN).filter(|folder| !folder.is_empty()) {
        Some(folder) => Some(PathBuf::from(folder)),
        None if cfg!(target_os = "android") => app.path().picture_dir().ok(),
        None => None,
    }
}

/// Where the share sheet may read (`res/xml/file_paths.xml`), or a desk's downloads.
fn outbox<R: Runtime>(app: &tauri::App<R>) -> tauri::Result<PathBuf> {
    if cfg!(target_os = "android") {
        Ok(app.path().app_cache_dir()?.join("outbox"))
    } else {
        // Some desks have no folder for downloads; the app opens on them all the same.
        let path = app.path();
        path.download_dir()
            .or_else(|_| path.app_data_dir().map(|data| data.join("outbox")))
    }
}
