//! What devices ask under `/sync/`: checked here, answered by the sync crate.

use std::time::Instant;

use axum::body::{Body, Bytes, to_bytes};
use axum::extract::{Request, State};
use axum::http::{Method, StatusCode, header};
use axum::response::{IntoResponse, Response};
use chrono::Local;
use swarfbook_job::id::Sha256Hex;
use swarfbook_sync::auth::{self, Allowed, Denied, MAX_PAIR_BYTES};
use swarfbook_sync::{MAX_BODY_BYTES, serve};
use swarfbook_words::say;

use super::Hub;
use super::listen::From;

pub(super) async fn answer(State(hub): State<Hub>, request: Request) -> Response {
    let method = match *request.method() {
        Method::GET => "GET",
        Method::POST => "POST",
        _ => return refused(StatusCode::METHOD_NOT_ALLOWED, "A request is GET or POST."),
    };
    let target = request
        .uri()
        .path_and_query()
        .map_or(String::new(), |target| target.as_str().to_owned());
    let header = request
        .headers()
        .get(header::AUTHORIZATION)
        .and_then(|value| value.to_str().ok())
        .unwrap_or_default()
        .to_owned();
    // The signature is over the hash of the body: a stranger's is never read.
    let allowed = match check(&hub, header, method, target.clone()).await {
        Ok(allowed) => allowed,
        Err(response) => return response,
    };
    let body = match counted(request.into_body(), MAX_BODY_BYTES).await {
        Ok(body) => body,
        Err(response) => return response,
    };
    in_the_background(move || {
        if Sha256Hex::of(&body) != allowed.body {
            return swarfbook_sync::Response::refused(
                StatusCode::UNAUTHORIZED.as_u16(),
                "The body is not the one that was signed.",
            );
        }
        let request = swarfbook_sync::Request {
            method,
            target,
            body: body.into(),
        };
        serve::answer(hub.app.store(), allowed.device, now_millis(), &request)
    })
    .await
}

async fn check(
    hub: &Hub,
    header: String,
    method: &'static str,
    target: String,
) -> Result<Allowed, Response> {
    let deny = |denied: Denied| refused(StatusCode::UNAUTHORIZED, &denied.to_string());
    let hub = hub.clone();
    let checked = tokio::task::spawn_blocking(move || {
        let key_of = |device| {
            let peer = hub.app.store().peer(device).ok().flatten();
            peer.map(|peer| peer.public_key)
        };
        let what = (method, target.as_str());
        hub.gate
            .check(&header, what, &hub.names, key_of, now_millis())
    })
    .await;
    match checked {
        Ok(result) => result.map_err(deny),
        Err(_) => Err(failed()),
    }
}

/// The one request that a device makes before it is known.
pub(super) async fn pair(State(hub): State<Hub>, request: Request) -> Response {
    let from = request.extensions().get::<From>().copied();
    let body = match counted(request.into_body(), MAX_PAIR_BYTES).await {
        Ok(body) => body,
        Err(response) => return response,
    };
    in_the_background(move || {
        if let Err(wait) = hub.guesses().pairing(from, Instant::now()) {
            return swarfbook_sync::Response::refused(
                StatusCode::TOO_MANY_REQUESTS.as_u16(),
                say!(
                    "too-many-wrong-codes-came-from-this-devices",
                    minutes = wait.minutes()
                ),
            );
        }
        let now = Local::now().fixed_offset();
        let admitted = auth::admit(hub.app.store(), &hub.code, &body, now);
        if !admitted.guessed_wrong {
            hub.guesses().not_pairing(from);
        }
        admitted.response
    })
    .await
}

/// A raw body is not counted by axum's own limit, so it is here.
async fn counted(body: Body, most: usize) -> Result<Bytes, Response> {
    to_bytes(body, most).await.map_err(|_| {
        refused(
            StatusCode::PAYLOAD_TOO_LARGE,
            "What was sent is larger than may be, or did not arrive whole.",
        )
    })
}

async fn in_the_background(
    work: impl FnOnce() -> swarfbook_sync::Response + Send + 'static,
) -> Response {
    match tokio::task::spawn_blocking(work).await {
        Ok(answer) => {
            let status =
                StatusCode::from_u16(answer.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
            (status, answer.body).into_response()
        }
        Err(_) => failed(),
    }
}

fn refused(status: StatusCode, words: &str) -> Response {
    let answer = swarfbook_sync::Response::refused(status.as_u16(), words);
    (status, answer.body).into_response()
}

fn failed() -> Response {
    refused(
        StatusCode::INTERNAL_SERVER_ERROR,
        "The hub failed at this request. Sync again; nothing is lost.",
    )
}

pub(super) fn now_millis() -> u64 {
    u64::try_from(Local::now().timestamp_millis()).unwrap_or(0)
}
