//! Everything of a store in one file that opens without this program.
//!
//! A ZIP archive (ISO/IEC 21320-1: stored or deflated, no encryption):
//!
//! | name | what it holds |
//! | --- | --- |
//! | `README.txt` | this table, for whoever finds the file in ten years |
//! | `manifest.json` | [`Manifest`]: form, version, how much of each there is, where each chain ends |
//! | `log/DEVICE.jsonl` | a device's lines in their order, one canonical line (RFC 8785) each |
//! | `signatures/DEVICE.txt` | the device's public key, then number and signature of each signed line |
//! | `customers.jsonl` | names and contacts, one customer a line |
//! | `procedures.jsonl` | the shop's own procedures, every version, one a line |
//! | `settings.json` | how the device was set, by name |
//! | `drafts.jsonl` | what was half typed |
//! | `photos/SHA256` | the photos as taken, each named by its own hash |
//!
//! Keys and pairings stay behind: who holds the file must not be able to sign
//! as the device that wrote it.

mod archive;
mod ending;
mod read;
mod signatures;
mod write;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::id::{DeviceId, JobId, Sha256Hex};

use crate::LostLines;

pub use read::read_back;

/// What an export says that it is.
const FORM: &str = "swarfbook-export";

/// The newest version of the form that is written, and read.
pub const FORM_VERSION: u32 = 1;

const README: &str = "README.txt";
const MANIFEST: &str = "manifest.json";
const CUSTOMERS: &str = "customers.jsonl";
const PROCEDURES: &str = "procedures.jsonl";
const SETTINGS: &str = "settings.json";
const DRAFTS: &str = "drafts.jsonl";
const LOG: &str = "log/";
const SIGNATURES: &str = "signatures/";
const PHOTOS: &str = "photos/";

/// How much an export holds.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Exported {
    /// Lines of the log.
    pub entries: u64,
    /// Photos whose bytes are in it.
    pub photos: u64,
    /// Photos that lines name and that are not here yet.
    pub photos_missing: u64,
    /// Customers, those erased too.
    pub customers: u64,
    /// Versions of procedures of the shop's own.
    pub procedures: u64,
    /// What should be in it and could not be read.
    #[serde(flatten)]
    pub not_whole: NotWhole,
    /// Of the lines that came in, those that nobody signed and no signed line stands for: nothing
    /// shows that their device wrote them. An export itself says nothing of the kind.
    #[serde(skip)]
    pub unsigned: u64,
}

/// What was damaged where the export was made, and is not in it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct NotWhole {
    /// Lines by their numbers: what stands behind them in a device's chain is in the export.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lines_lost: Vec<LostLines>,
    /// How many lines more the log had, of which nobody knows the numbers.
    #[serde(default, skip_serializing_if = "is_none")]
    pub lines_unnamed: u64,
    /// Photos whose bytes were not what their name says.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub photos_damaged: Vec<Sha256Hex>,
}

/// The archive's own account of itself.
#[derive(Debug, Serialize, Deserialize)]
struct Manifest {
    form: String,
    version: u32,
    #[serde(flatten)]
    holds: Exported,
    /// The hash of each device's last line, so that no end of a chain can go missing.
    heads: BTreeMap<DeviceId, Sha256Hex>,
    /// How many lines are signed; exports of before have none.
    #[serde(default)]
    signatures: u64,
}

/// What is half typed, as `drafts.jsonl` has it.
#[derive(Debug, Serialize, Deserialize)]
struct Draft {
    job: JobId,
    field: String,
    text: String,
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde hands it so
fn is_none(lines: &u64) -> bool {
    *lines == 0
}
