//! The Kotlin side, `HandoverPlugin.kt`.

use std::error::Error;
use std::path::Path;

use serde::{Deserialize, Serialize};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_words::{say, term};
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

#[derive(Serialize)]
struct AwakeArgs {
    awake: bool,
}

#[derive(Deserialize)]
struct Opened {
    what: Option<String>,
    unreadable: bool,
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
                say!("the-phone-could-not-open-its-share-sheet", error = error),
                term!("try-again-the-file-is-not-lost"),
            )
        })
}

/// The link or the file that the app was opened with since it was last asked.
/// Waits until a file that is on its way has been copied.
pub(super) fn opened<R: Runtime>(app: &AppHandle<R>) -> Result<Option<String>, Problem> {
    let phone = app.state::<Phone<R>>();
    let opened: Opened = phone.0.run_mobile_plugin("opened", ()).map_err(|error| {
        Problem::new(
            ProblemKind::Storage,
            say!("the-phone-does-not-tell-what-the-app", error = error),
            term!("open-the-link-or-the-file-with-this"),
        )
    })?;
    if opened.unreadable {
        return Err(Problem::new(
            ProblemKind::Storage,
            term!("the-file-that-the-app-was-opened-with"),
            term!("save-it-on-the-phone-first-then-open"),
        ));
    }
    Ok(opened.what)
}

pub(crate) fn keep_awake<R: Runtime>(app: &AppHandle<R>, awake: bool) -> Result<(), Problem> {
    app.state::<Phone<R>>()
        .0
        .run_mobile_plugin::<()>("keepAwake", AwakeArgs { awake })
        .map_err(|error| {
            Problem::new(
                ProblemKind::Storage,
                say!("the-phone-could-not-keep-its-screen-awake", error = error),
                term!("set-a-longer-time-until-its-screen-sleeps"),
            )
        })
}
