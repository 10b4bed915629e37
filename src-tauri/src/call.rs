//! A command in, a reply or a problem out.

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde_json::Value;
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_words::{say, term};
use tauri::{AppHandle, Manager, Runtime, async_runtime};

use crate::door::Door;

/// Carries one command to the door. It is taken as it came, so that one that
/// can't be understood is told in the door's own form, as over other carriers.
#[tauri::command]
pub(crate) async fn call<R: Runtime>(
    shell: AppHandle<R>,
    command: Value,
) -> Result<Reply, Problem> {
    aside(shell, move |shell| {
        let command: Command = serde_json::from_value(command).map_err(|error| {
            Problem::new(
                ProblemKind::BadRequest,
                say!("this-command-cant-be-understood-error", error = error),
                term!("update-the-app-nothing-was-changed"),
            )
        })?;
        shell.state::<Door>().app()?.call(command)
    })
    .await
}

/// Does it on a thread that may wait for the disk, and says what there is to say
/// in the language of the device.
pub(crate) async fn aside<R: Runtime, T: Send + 'static>(
    shell: AppHandle<R>,
    work: impl FnOnce(&AppHandle<R>) -> Result<T, Problem> + Send + 'static,
) -> Result<T, Problem> {
    let done = async_runtime::spawn_blocking(move || spoken(&shell, || work(&shell)));
    done.await.unwrap_or_else(|_| Err(broken()))
}

/// The same on this thread; work that panics is a problem like others.
pub(crate) fn spoken<R: Runtime, T>(
    shell: &AppHandle<R>,
    work: impl FnOnce() -> Result<T, Problem>,
) -> Result<T, Problem> {
    shell
        .state::<Door>()
        .speaking(|| catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(broken())))
}

/// What is said when the work itself broke down.
fn broken() -> Problem {
    Problem::new(
        ProblemKind::Storage,
        term!("the-app-failed-at-this-request"),
        term!("nothing-that-was-confirmed-is-lost-open-the"),
    )
}
