//! Errors as answers, in one shape.

use axum::Json;
use axum::extract::rejection::BytesRejection;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_words::term;

/// A problem with the status that carries it.
pub(super) struct Refusal(pub StatusCode, pub Problem);

impl IntoResponse for Refusal {
    fn into_response(self) -> Response {
        (self.0, Json(self.1)).into_response()
    }
}

impl From<Problem> for Refusal {
    fn from(problem: Problem) -> Refusal {
        Refusal(StatusCode::UNPROCESSABLE_ENTITY, problem)
    }
}

impl From<BytesRejection> for Refusal {
    fn from(rejection: BytesRejection) -> Refusal {
        let status = rejection.status();
        let problem = if status == StatusCode::PAYLOAD_TOO_LARGE {
            bad_request(
                term!("what-was-sent-is-larger-than-may-be"),
                term!("send-less-at-once"),
            )
        } else {
            bad_request(
                term!("what-was-sent-did-not-arrive-whole"),
                term!("send-it-again"),
            )
        };
        Refusal(status, problem)
    }
}

impl From<tokio::task::JoinError> for Refusal {
    fn from(_: tokio::task::JoinError) -> Refusal {
        Refusal(
            StatusCode::INTERNAL_SERVER_ERROR,
            Problem::new(
                ProblemKind::Storage,
                term!("the-hub-failed-at-this-request"),
                term!("nothing-that-was-confirmed-is-lost-open-the"),
            ),
        )
    }
}

pub(super) fn bad_request(what: &str, do_next: &str) -> Problem {
    Problem::new(ProblemKind::BadRequest, what, do_next)
}
