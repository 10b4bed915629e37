//! How often the machine was right.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::DebrisClass;
use ts_rs::TS;

/// How often the machine was right, over the shop's own photos.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct RecordView {
    /// "412 pieces looked at, 391 right: 95 %, 92 to 97."
    pub words: String,
    /// What was wrong, and what the figure can't know.
    pub notes: Vec<String>,
    /// By the class that the machine said.
    pub by_class: Vec<RecordRow>,
    /// By length class of ISO 16232.
    pub by_size: Vec<RecordRow>,
    /// The sentence that stands beside a score; `None` before there are enough pieces.
    pub cited: Option<String>,
    /// How well photos of one patch repeat, in the terms of ISO 5725; empty before there are three of one.
    pub repeats: Vec<String>,
    /// How to find that out, while nobody did.
    pub repeat_offer: Option<String>,
    /// New counts are calibrated.
    pub calibrated: bool,
    /// What calibrating class probabilities to these pieces does, and what it would change now.
    pub calibration: Vec<String>,
}

/// One class or one size.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct RecordRow {
    /// The class; `None` in a row of sizes.
    pub class: Option<DebrisClass>,
    /// Its name, or "0.4 to 0.6 mm".
    pub label: String,
    /// "120 looked at, 113 right: 94 %, 89 to 97".
    pub words: String,
}
