//! The hub's side: one request to its answer. Who asks was checked before.

mod beside;
mod lines;
mod photos;

use swarfbook_job::id::DeviceId;
use swarfbook_store::{Store, StoreError};
use swarfbook_words::{say, term};

pub(crate) use beside::{CUSTOMERS_AT_ONCE, take_in as take_in_customers, take_in_procedure};
pub(crate) use lines::{forked, read as read_lines, standing, take_in, write as write_lines};
pub(crate) use photos::{missing_in, piece_of};

use crate::message::{MAX_BODY_BYTES, Request, Response};

/// Answers what the paired device `from` asks at `now_millis`.
pub fn answer(store: &Store, from: DeviceId, now_millis: u64, request: &Request) -> Response {
    if request.body.len() > MAX_BODY_BYTES {
        return Response::refused(413, term!("what-was-sent-is-larger-than-may-be"));
    }
    let (path, target) = (path_of(&request.target), request.target.as_str());
    match (request.method, path) {
        ("GET", "/sync/standing") => or_words(standing(store).map(|s| Response::json(&s))),
        ("GET", "/sync/lines") => lines::give(store, target),
        ("POST", "/sync/lines") => lines::take(store, from, &request.body, now_millis),
        ("GET", "/sync/customers") => beside::give_customers(store, target),
        ("POST", "/sync/customers") => beside::take_customers(store, &request.body, now_millis),
        ("GET", "/sync/procedures") => beside::give_procedures(store),
        ("POST", "/sync/procedure") => beside::take_procedure(store, &request.body),
        ("GET", "/sync/photos") => photos::missing(store, from),
        ("GET", "/sync/photo") => photos::give(store, target),
        ("POST", "/sync/photo") => photos::take(store, from, target, &request.body),
        _ => Response::refused(404, term!("this-hub-does-not-know-that-request-update")),
    }
}

fn path_of(target: &str) -> &str {
    target.split_once('?').map_or(target, |(path, _)| path)
}

/// What failed in the store is the hub's own affair: the device hears that it
/// failed, not how (the hub's screen tells).
fn or_words(result: Result<Response, StoreError>) -> Response {
    result.unwrap_or_else(|error| match error {
        StoreError::Full => {
            Response::refused(507, term!("the-hubs-storage-is-full-make-room-there"))
        }
        StoreError::Photo(words) => Response::refused(422, words),
        _ => Response::refused(500, term!("the-hubs-store-failed-look-at-the-hub")),
    })
}

fn bad(what: &str) -> Response {
    Response::refused(
        400,
        say!("the-hub-cant-understand-this-request-what", what = what),
    )
}
