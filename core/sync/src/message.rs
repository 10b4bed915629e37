//! The words of the protocol. Bodies are JSON, except lines of the log (their
//! canonical bytes, one a line, and behind a tab the writer's key and signature:
//! canonical JSON holds no line break and no tab) and pieces of photos (raw).

use std::collections::BTreeMap;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use swarfbook_job::id::{DeviceId, Sha256Hex};

/// The most that a request or an answer may weigh: one entry of 4 MiB with room.
pub const MAX_BODY_BYTES: usize = 8 * 1024 * 1024;

/// Lines of the log are put together up to this size (one line may be larger).
pub(crate) const LINES_BYTES: usize = 1024 * 1024;

/// A photo travels in pieces of this size: small enough to resume with little
/// loss on a bad connection, large enough that asking costs nothing.
pub(crate) const PIECE_BYTES: usize = 512 * 1024;

/// One request, whatever carries it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Request {
    /// "GET" or "POST".
    pub method: &'static str,
    /// Path and query.
    pub target: String,
    /// The body; empty for GET.
    pub body: Vec<u8>,
}

impl Request {
    pub(crate) fn get(target: impl Into<String>) -> Request {
        Request {
            method: "GET",
            target: target.into(),
            body: Vec::new(),
        }
    }

    pub(crate) fn post(target: impl Into<String>, body: Vec<u8>) -> Request {
        Request {
            method: "POST",
            target: target.into(),
            body,
        }
    }
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Response {
    /// An HTTP status; 200 when it was done.
    pub status: u16,
    /// The body; [`Words`] as JSON when it was not done.
    pub body: Vec<u8>,
}

impl Response {
    /// Done, with raw bytes.
    pub(crate) fn done(body: Vec<u8>) -> Response {
        Response { status: 200, body }
    }

    /// Done, with JSON.
    pub(crate) fn json(value: &impl Serialize) -> Response {
        match serde_json::to_vec(value) {
            Ok(body) => Response::done(body),
            Err(error) => Response::refused(500, format!("The answer can't be written: {error}.")),
        }
    }

    /// Not done, and why.
    pub fn refused(status: u16, words: impl Into<String>) -> Response {
        let words = Words {
            words: words.into(),
        };
        Response {
            status,
            body: serde_json::to_vec(&words).unwrap_or_default(),
        }
    }
}

/// Why something was not done, in plain words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Words {
    /// What happened, to what, and what to do.
    pub words: String,
}

/// A device's last line in a store.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Head {
    /// Its number on the device, from 1.
    pub seq: u64,
    /// SHA-256 of its canonical bytes.
    pub hash: Sha256Hex,
}

/// What a store has.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Standing {
    /// The store's own name in the log.
    pub store: DeviceId,
    /// The last line of each device.
    pub heads: BTreeMap<DeviceId, Head>,
    /// Digest of all customers: equal when both have the same.
    pub customers: Sha256Hex,
    /// Digest of all procedures.
    pub procedures: Sha256Hex,
    /// It reads the signatures behind lines, and gives them where `signed=1` is asked.
    #[serde(default)]
    pub signatures: bool,
}

/// A photo that entries name and the store does not have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PhotoMissing {
    /// SHA-256 of its bytes, by which lines name it.
    pub photo: Sha256Hex,
    /// How many of its bytes arrived from the one who asks.
    pub arrived: u64,
}

/// What was not taken in, and why. Nothing of it was changed on either side.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refused {
    /// Whose line, when that can be told.
    pub device: Option<DeviceId>,
    /// Why, in plain words.
    pub words: String,
}

/// What became of lines that were pushed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct LinesTaken {
    /// Lines that were new.
    pub new: u32,
    /// Lines that were not taken in.
    pub refused: Vec<Refused>,
}

/// How far a pushed photo has arrived.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum PieceTaken {
    /// It is whole.
    Whole,
    /// The next piece starts here.
    Upto(u64),
    /// Its bytes are not what its name says; they were thrown away.
    Wrong,
}

/// A piece of a photo: the photo's size (eight bytes, the high one first), then bytes.
pub(crate) struct Piece {
    /// Size of the whole photo.
    pub total: u64,
    /// As many as one message carries.
    pub bytes: Vec<u8>,
}

impl Piece {
    pub(crate) fn write(self) -> Vec<u8> {
        let mut body = self.total.to_be_bytes().to_vec();
        body.extend(self.bytes);
        body
    }

    pub(crate) fn read(body: &[u8]) -> Option<Piece> {
        let (total, bytes) = body.split_first_chunk::<8>()?;
        Some(Piece {
            total: u64::from_be_bytes(*total),
            bytes: bytes.to_vec(),
        })
    }
}

/// A value from `name=value&...`; names and values here need no escapes.
pub(crate) fn from_query<T: std::str::FromStr>(target: &str, name: &str) -> Option<T> {
    let (_, query) = target.split_once('?')?;
    query
        .split('&')
        .filter_map(|pair| pair.split_once('='))
        .find(|(key, _)| *key == name)
        .and_then(|(_, value)| value.parse().ok())
}

pub(crate) fn from_json<T: DeserializeOwned>(body: &[u8]) -> Result<T, serde_json::Error> {
    serde_json::from_slice(body)
}
