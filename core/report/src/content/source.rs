//! Where a figure comes from.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_job::id::Sha256Hex;

/// One line of the log, as the appendix shows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    /// Wall time with offset, as the device showed it.
    pub at: DateTime<FixedOffset>,
    /// The technician, or the tool for a line that the machine wrote.
    pub by: String,
    /// What kind of line it is: "reading", "photo of the pan".
    pub what: String,
    /// What was typed, tapped or counted, before any working out.
    pub raw: Vec<Raw>,
    /// The photo, for a line that took one.
    pub photo: Option<Sha256Hex>,
}

/// One raw value: "samples" and "37.8, 37.9, 37.8".
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Raw {
    /// What it is of: "samples".
    pub name: String,
    /// As entered, with its unit.
    pub value: String,
}
