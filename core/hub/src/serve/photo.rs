//! Photos beside the door: raw bytes in, a copy out.

use axum::Json;
use axum::body::Bytes;
use axum::extract::rejection::QueryRejection;
use axum::extract::{DefaultBodyLimit, FromRequest, Path, Query, Request, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use serde::{Deserialize, Serialize};
use swarfbook_app::command::LongWork;
use swarfbook_app::problem::ProblemKind;
use swarfbook_job::id::Sha256Hex;
use swarfbook_store::MAX_PHOTO_BYTES;
use swarfbook_words::term;

use super::Hub;
use super::language::aside;
use super::refuse::{Refusal, bad_request};

/// Counted while it arrives, on this route only.
pub(super) fn limit() -> DefaultBodyLimit {
    DefaultBodyLimit::max(MAX_PHOTO_BYTES)
}

#[derive(Serialize)]
pub(super) struct Kept {
    photo: Sha256Hex,
}

pub(super) async fn put(State(hub): State<Hub>, request: Request) -> Result<Json<Kept>, Refusal> {
    // Wait for room before the bytes are taken in, not after.
    let _room = hub.photos_in.acquire().await;
    let bytes = Bytes::from_request(request, &()).await?;
    let (app, room) = (hub.app.clone(), hub.long_work.room(LongWork::Photo).await);
    let work = move || {
        let _room = room;
        app.put_photo(&bytes)
    };
    let photo = aside(work).await??;
    Ok(Json(Kept { photo }))
}

#[derive(Deserialize)]
pub(super) struct Size {
    /// Width of the copy, px.
    w: Option<u32>,
}

pub(super) async fn get(
    State(hub): State<Hub>,
    Path(sha): Path<String>,
    size: Result<Query<Size>, QueryRejection>,
) -> Result<Response, Refusal> {
    let photo: Sha256Hex = sha
        .parse()
        .map_err(|_| not_found(term!("a-photo-is-named-by-64-hexadecimal-digits")))?;
    let Query(size) = size.map_err(|_| {
        bad_request(
            term!("the-width-is-a-number-of-pixels"),
            term!("ask-again-with-one"),
        )
    })?;
    let _room = hub.photos_out.acquire().await;
    let app = hub.app.clone();
    let copy = aside(move || app.photo(photo, size.w)).await?;
    let bytes = copy.map_err(|problem| match problem.kind {
        ProblemKind::NotFound | ProblemKind::NotYet => Refusal(StatusCode::NOT_FOUND, problem),
        _ => Refusal::from(problem),
    })?;
    Ok((
        [
            (header::CONTENT_TYPE, "image/jpeg"),
            // Named by its content: it can't change.
            (
                header::CACHE_CONTROL,
                "private, max-age=31536000, immutable",
            ),
        ],
        bytes,
    )
        .into_response())
}

fn not_found(what: &str) -> Refusal {
    Refusal(
        StatusCode::NOT_FOUND,
        bad_request(what, term!("take-the-name-from-the-job")),
    )
}
