//! One immutable line of the log.
//!
//! An entry travels and is kept as its canonical bytes (RFC 8785 JSON), and
//! its hash is over those bytes. A peer may hold kinds of facts that this
//! version does not know: the bytes are kept and passed on all the same, and
//! the fold leaves them out ([`Body::Unknown`]).

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};

use crate::clock::Hlc;
use crate::fact::Fact;
use crate::id::{DeviceId, EntryId, JobId, Sha256Hex};

/// A fact with who, when and in which order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Entry {
    /// Its name, a UUIDv7.
    pub id: EntryId,
    /// The job it belongs to.
    pub job: JobId,
    /// The device that wrote it.
    pub device: DeviceId,
    /// Its number on that device, from 1, without gaps.
    pub seq: u64,
    /// Wall time with offset, as the device showed it.
    pub wall: DateTime<FixedOffset>,
    /// Hybrid clock: the order of the fold.
    pub hlc: Hlc,
    /// Hash of the device's previous entry; zeros before the first.
    pub prev: Sha256Hex,
    /// What was written.
    pub body: Body,
}

/// A fact that this version knows, or one that it keeps unread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Body {
    /// A known fact.
    Known(Box<Fact>),
    /// Written by a newer version; kept as it is.
    Unknown(serde_json::Value),
}

impl Body {
    /// The fact, when this version knows it.
    pub fn known(&self) -> Option<&Fact> {
        match self {
            Body::Known(fact) => Some(fact),
            Body::Unknown(_) => None,
        }
    }
}

impl From<Fact> for Body {
    fn from(fact: Fact) -> Self {
        Body::Known(Box::new(fact))
    }
}

/// Begins what is signed, so that a signature for something else can't pass.
const PURPOSE: &str = "swarfbook-line-1\n";

/// Shows who wrote a line: Ed25519 (RFC 8032) over [`Sealed::to_sign`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signature {
    /// The writer's public key, 64 hexadecimal digits.
    pub key: String,
    /// 128 hexadecimal digits.
    pub signature: String,
}

/// An entry with its canonical bytes and their hash.
#[derive(Debug, Clone, PartialEq)]
pub struct Sealed {
    /// What `bytes` say, as far as this version knows the kind of line.
    pub entry: Entry,
    /// RFC 8785 JSON.
    pub bytes: String,
    /// SHA-256 of `bytes`.
    pub hash: Sha256Hex,
    /// By its writer; none at lines of before there were any. It stands beside the bytes:
    /// who checks it is whoever takes the line in.
    pub signature: Option<Signature>,
}

/// Why bytes are not an entry.
#[derive(Debug, thiserror::Error)]
pub enum EntryError {
    /// Not JSON, or not the shape of an entry. What the parser says is its source.
    #[error("{}", term!("this-line-of-the-log-cant-be-read"))]
    Shape(#[from] serde_json::Error),
    /// Readable, but not in canonical form, so that its hash would be in doubt.
    #[error("{}", term!("this-line-of-the-log-is-not-in"))]
    NotCanonical,
    /// Larger than any entry may be.
    #[error("{}", say!("this-line-of-the-log-has-value-bytes", value = .0, max_entry_bytes = MAX_ENTRY_BYTES))]
    TooLarge(usize),
}

/// The most that one entry may weigh: a census of some 3,000 pieces with outlines.
pub const MAX_ENTRY_BYTES: usize = 4 * 1024 * 1024;

impl Entry {
    /// Canonical bytes and hash of this entry.
    ///
    /// # Errors
    /// [`EntryError::Shape`] for a number that JSON can't hold (NaN, infinity),
    /// [`EntryError::TooLarge`] over [`MAX_ENTRY_BYTES`].
    pub fn seal(self) -> Result<Sealed, EntryError> {
        let bytes = serde_json_canonicalizer::to_string(&self)?;
        if bytes.len() > MAX_ENTRY_BYTES {
            return Err(EntryError::TooLarge(bytes.len()));
        }
        let hash = Sha256Hex::of(bytes.as_bytes());
        Ok(Sealed {
            entry: self,
            bytes,
            hash,
            signature: None,
        })
    }
}

impl Sealed {
    /// Reads canonical bytes back.
    ///
    /// # Errors
    /// See [`EntryError`].
    pub fn read(bytes: &str) -> Result<Sealed, EntryError> {
        if bytes.len() > MAX_ENTRY_BYTES {
            return Err(EntryError::TooLarge(bytes.len()));
        }
        let value: serde_json::Value = serde_json::from_str(bytes)?;
        // Over the value, not over our reading of it: unknown fields of a
        // newer version belong to the bytes that were hashed.
        if serde_json_canonicalizer::to_string(&value)? != bytes {
            return Err(EntryError::NotCanonical);
        }
        let entry: Entry = serde_json::from_value(value)?;
        Ok(Sealed {
            entry,
            bytes: bytes.to_owned(),
            hash: Sha256Hex::of(bytes.as_bytes()),
            signature: None,
        })
    }

    /// What a writer signs.
    pub fn to_sign(&self) -> String {
        [PURPOSE, &self.bytes].concat()
    }
}
