//! The Kotlin side, `HandoverPlugin.kt`.

use std::error::Error;
use std::path::Path;

use serde::{Deserialize, Serialize};
use swarfbook_app::problem::{Problem, ProblemKind};
use tauri::plugin::{PluginApi, PluginHandle};
use tauri::{AppHandle, Manager, Runtime};

/// The package of `HandoverPlugin.kt`.
const PACKAGE: &str = "org.swarfbook.notebook";

struct Phone<R: Runtime>(PluginHandle<R>);

#[derive(Serialize)]
struct ShareArgs<'a> {
    path: &'a Path,
    kind: &'a str,
}

#[derive(Deserialize)]
struct Opened {
    what: Option<String>,
}

pub(super) fn register<R: Runtime>(
    app: &AppHandle<R>,
    api: &PluginApi<R, ()>,
) -> Result<(), Box<dyn Error>> {
    let handle = api.register_android_plugin(PACKAGE, "HandoverPlugin")?;
    app.manage(Phone(handle));
    Ok(())
}

/// Opens the share sheet with a file of the outbox.
pub(super) fn share<R: Runtime>(
    app: &AppHandle<R>,
    path: &Path,
    kind: &str,
) -> Result<(), Problem> {
    let args = ShareArgs { path, kind };
    app.state::<Phone<R>>()
        .0
        .run_mobile_plugin::<()>("share", args)
        .map_err(|error| {
            Problem::new(
                ProblemKind::Storage,
                format!("The phone could not open its share sheet: {error}."),
                "Try again; the file is not lost.",
            )
        })
}

/// The link or the file that the app was opened with since it was last asked.
pub(super) fn opened<R: Runtime>(app: &AppHandle<R>) -> Option<String> {
    let phone = app.state::<Phone<R>>();
    let opened: Opened = phone.0.run_mobile_plugin("opened", ()).ok()?;
    opened.what
}
