//! `POST /call`: one command in, one reply out.

use axum::body::Bytes;
use axum::extract::State;
use axum::extract::rejection::BytesRejection;
use axum::http::{HeaderMap, StatusCode, header};
use axum::{Extension, Json};
use swarfbook_app::reply::Reply;
use swarfbook_words::term;

use super::Hub;
use super::guard::Asks;
use super::language::aside;
use super::refuse::{Refusal, bad_request};
use crate::command;

pub(super) async fn call(
    State(hub): State<Hub>,
    Extension(asks): Extension<Asks>,
    headers: HeaderMap,
    body: Result<Bytes, BytesRejection>,
) -> Result<Json<Reply>, Refusal> {
    // A form on another site can send text, but not this type.
    if !is_json(&headers) {
        return Err(Refusal(
            StatusCode::UNSUPPORTED_MEDIA_TYPE,
            bad_request(
                term!("a-command-is-sent-as-application-json"),
                term!("set-the-content-type"),
            ),
        ));
    }
    let body = body?;
    // A command of megabytes takes its time to read.
    let read = aside(move || command::read(&body)).await?;
    let command = read.map_err(|no| {
        let status = if no.not_json {
            StatusCode::BAD_REQUEST
        } else {
            StatusCode::UNPROCESSABLE_ENTITY
        };
        Refusal(status, no.problem)
    })?;
    let room = match command.long_work() {
        Some(kind) => hub.long_work.room(kind).await,
        None => None,
    };
    let work = move || {
        let _room = room;
        hub.app.asked_by(asks.profile, || hub.app.call(command))
    };
    let reply = aside(work).await??;
    Ok(Json(reply))
}

fn is_json(headers: &HeaderMap) -> bool {
    headers
        .get(header::CONTENT_TYPE)
        .and_then(|value| value.to_str().ok())
        .and_then(|value| value.split(';').next())
        .is_some_and(|kind| kind.trim().eq_ignore_ascii_case("application/json"))
}
