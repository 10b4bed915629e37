//! A command in, a reply or a problem out.

use serde_json::Value;
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use tauri::{AppHandle, Manager, Runtime, async_runtime};

use crate::door::Door;

/// Carries one command to the door. It is taken as it came, so that one that
/// can't be understood is told in the door's own form, as over other carriers.
#[tauri::command]
pub(crate) async fn call<R: Runtime>(
    shell: AppHandle<R>,
    command: Value,
) -> Result<Reply, Problem> {
    let command: Command = serde_json::from_value(command).map_err(|error| {
        Problem::new(
            ProblemKind::BadRequest,
            format!("This command can't be understood: {error}."),
            "Update the app; nothing was changed.",
        )
    })?;
    aside(move || shell.state::<Door>().app()?.call(command)).await
}

/// Does it on a thread that may wait for the disk.
pub(crate) async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Problem> + Send + 'static,
) -> Result<T, Problem> {
    async_runtime::spawn_blocking(work)
        .await
        .unwrap_or_else(|_| Err(broken()))
}

/// What is said when the work itself broke down.
pub(crate) fn broken() -> Problem {
    Problem::new(
        ProblemKind::Storage,
        "The app failed at this request.",
        "Nothing that was confirmed is lost. Open the job again and repeat the last step.",
    )
}
