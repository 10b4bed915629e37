//! The tools that a device measures with, as far as they can be traced.

use std::collections::BTreeMap;

use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What makes one tool known from every other, and when it was calibrated last.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct ToolMark {
    /// Its serial number; empty when it was not stated.
    pub serial: String,
    /// The day of its last calibration; `None` when it was not stated.
    #[ts(type = "string | null")]
    pub calibrated: Option<NaiveDate>,
}

impl ToolMark {
    /// Nothing was stated.
    pub fn is_empty(&self) -> bool {
        *self == ToolMark::default()
    }
}

/// How the printed gauge card was checked: its sheet has a line of 150 mm for that.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct CardChecked {
    /// What the line measures, mm.
    pub line_mm: f64,
    /// The day on which it was measured; `None` when it was not stated.
    #[serde(default)]
    #[ts(type = "string | null")]
    pub day: Option<NaiveDate>,
}

/// What is known of the tools of a device; asked once a tool, not at each reading.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Tools {
    /// Meters, by the name that readings give them.
    pub meters: BTreeMap<String, ToolMark>,
    /// The torque wrench.
    pub wrench: ToolMark,
    /// The clamp for amperes.
    #[serde(skip_serializing_if = "ToolMark::is_empty")]
    #[ts(as = "Option<ToolMark>", optional)]
    pub clamp: ToolMark,
    /// The printed gauge card.
    pub card: Option<CardChecked>,
}
