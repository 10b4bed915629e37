//! When and from what a report was made.

use std::collections::BTreeMap;

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_job::id::{DeviceId, JobId, Sha256Hex};

/// When and from what the report was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    /// Wall time with offset.
    pub at: DateTime<FixedOffset>,
    /// The one that the report is of.
    pub job: JobId,
    /// The last line of each device that the report was made from.
    pub heads: BTreeMap<DeviceId, LogHead>,
    /// The procedure and its version, for instance "Pan service with electrical test, version 1".
    pub procedure: String,
    /// Name and version of the tool.
    pub tool: String,
}

/// The last line of one device's log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LogHead {
    /// Its number on the device.
    pub seq: u64,
    /// SHA-256 of its canonical bytes.
    pub hash: Sha256Hex,
}
