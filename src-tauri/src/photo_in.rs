//! A photo's bytes in, its name out.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde::Serialize;
use serde_json::Value;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::term;
use tauri::ipc::{InvokeBody, Request};
use tauri::{AppHandle, Manager, Runtime};

use crate::call::aside;
use crate::door::Door;

/// The name of the photo that was kept.
#[derive(Serialize)]
pub(crate) struct Kept {
    photo: Sha256Hex,
}

/// Keeps a photo as taken.
#[tauri::command]
pub(crate) async fn put_photo<R: Runtime>(
    shell: AppHandle<R>,
    request: Request<'_>,
) -> Result<Kept, Problem> {
    // Read from the request as it is: a photo is not copied once more.
    let bytes = bytes(request.body());
    aside(shell, move |shell| {
        let bytes = bytes.ok_or_else(not_whole)?;
        let photo = shell.state::<Door>().app()?.put_photo(&bytes)?;
        Ok(Kept { photo })
    })
    .await
}

/// The bytes, in whichever shape the webview could send them; `None` when they are not whole.
///
/// On a desk they come raw. Android's webview gives no request bodies to the
/// app, so there they come in JSON: as base64 under `base64`, which is what
/// the screens send there, or as an array of numbers, which is what Tauri makes
/// of bytes by itself (ten times the memory, so not for large photos).
fn bytes(body: &InvokeBody) -> Option<Vec<u8>> {
    match body {
        InvokeBody::Raw(bytes) => Some(bytes.clone()),
        InvokeBody::Json(Value::Array(numbers)) => numbers
            .iter()
            .map(|number| number.as_u64().and_then(|n| u8::try_from(n).ok()))
            .collect(),
        InvokeBody::Json(json) => json
            .get("base64")
            .and_then(Value::as_str)
            .and_then(|text| STANDARD.decode(text).ok()),
    }
}

fn not_whole() -> Problem {
    Problem::new(
        ProblemKind::BadRequest,
        term!("the-photo-did-not-arrive-whole"),
        term!("take-it-again-nothing-was-changed"),
    )
}
