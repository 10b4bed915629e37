//! Each request with its answer read.

use serde::Serialize;
use serde::de::DeserializeOwned;
use swarfbook_job::id::{CustomerId, DeviceId, Sha256Hex};
use swarfbook_store::{Customer, ProcedureText};
use swarfbook_words::{kept, say};

use crate::message::{
    LinesTaken, PhotoMissing, Piece, PieceTaken, Refused, Request, Standing, Words, from_json,
};
use crate::peer::{Peer, PeerError};

pub(super) fn standing(hub: &dyn Peer) -> Result<Standing, PeerError> {
    json(hub, &Request::get("/sync/standing"))
}

pub(super) fn lines(hub: &dyn Peer, device: DeviceId, after: u64) -> Result<Vec<u8>, PeerError> {
    raw(
        hub,
        &Request::get(format!(
            "/sync/lines?device={device}&after={after}&signed=1"
        )),
    )
}

pub(super) fn push_lines(hub: &dyn Peer, body: Vec<u8>) -> Result<LinesTaken, PeerError> {
    json(hub, &Request::post("/sync/lines", body))
}

pub(super) fn customers(
    hub: &dyn Peer,
    after: Option<CustomerId>,
) -> Result<Vec<Customer>, PeerError> {
    let target = match after {
        None => "/sync/customers".to_owned(),
        Some(id) => format!("/sync/customers?after={id}"),
    };
    json(hub, &Request::get(target))
}

pub(super) fn push_customers(
    hub: &dyn Peer,
    customers: &[Customer],
) -> Result<Vec<Refused>, PeerError> {
    json(hub, &Request::post("/sync/customers", body(&customers)?))
}

pub(super) fn procedures(hub: &dyn Peer) -> Result<Vec<ProcedureText>, PeerError> {
    json(hub, &Request::get("/sync/procedures"))
}

pub(super) fn push_procedure(
    hub: &dyn Peer,
    procedure: &ProcedureText,
) -> Result<Option<Refused>, PeerError> {
    json(hub, &Request::post("/sync/procedure", body(procedure)?))
}

pub(super) fn photos_missing(hub: &dyn Peer) -> Result<Vec<PhotoMissing>, PeerError> {
    json(hub, &Request::get("/sync/photos"))
}

/// A piece of a photo; `None` when the hub does not have it.
pub(super) fn piece(
    hub: &dyn Peer,
    photo: Sha256Hex,
    from: u64,
) -> Result<Option<Piece>, PeerError> {
    let request = Request::get(format!("/sync/photo?photo={photo}&from={from}"));
    match raw(hub, &request) {
        Ok(body) => Piece::read(&body)
            .map(Some)
            .ok_or_else(|| PeerError::Garbled(say!("a-piece-of-a-photo-without-its-size"))),
        Err(PeerError::Refused { status: 404, .. }) => Ok(None),
        Err(error) => Err(error),
    }
}

pub(super) fn push_piece(
    hub: &dyn Peer,
    photo: Sha256Hex,
    from: u64,
    piece: Piece,
) -> Result<PieceTaken, PeerError> {
    let target = format!(
        "/sync/photo?photo={photo}&from={from}&total={}",
        piece.total
    );
    json(hub, &Request::post(target, piece.bytes))
}

fn raw(hub: &dyn Peer, request: &Request) -> Result<Vec<u8>, PeerError> {
    let response = hub.ask(request)?;
    if response.status == 200 {
        return Ok(response.body);
    }
    let words = match from_json::<Words>(&response.body) {
        // The hub speaks English; what it says is told in the language of this device.
        Ok(words) => kept(&words.words),
        Err(_) => say!(
            "the-hub-refused-with-status-status",
            status = response.status
        ),
    };
    Err(PeerError::Refused {
        status: response.status,
        words,
    })
}

fn json<T: DeserializeOwned>(hub: &dyn Peer, request: &Request) -> Result<T, PeerError> {
    from_json(&raw(hub, request)?).map_err(PeerError::strange)
}

fn body(value: &impl Serialize) -> Result<Vec<u8>, PeerError> {
    serde_json::to_vec(value).map_err(PeerError::strange)
}
