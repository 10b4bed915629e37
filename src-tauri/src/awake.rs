//! The screen kept awake in a job.

use swarfbook_app::problem::Problem;
use tauri::{AppHandle, Runtime};

use crate::call::aside;

/// Keeps the phone's screen awake, or lets it sleep again. A desk's webview does
/// this itself, and does not ask.
#[tauri::command]
pub(crate) async fn keep_awake<R: Runtime>(
    shell: AppHandle<R>,
    awake: bool,
) -> Result<(), Problem> {
    aside(shell, move |shell| {
        #[cfg(target_os = "android")]
        crate::handover::phone::keep_awake(shell, awake)?;
        #[cfg(not(target_os = "android"))]
        let _ = (shell, awake);
        Ok(())
    })
    .await
}
