//! What comes off and must go back, and how it is tightened.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::StepId;
use crate::census::PointPx;
use crate::id::EntryId;

/// Something taken off: a brace, a tray, bolts of one length from one place.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PartOff {
    /// The step it came off at.
    pub step: StepId,
    /// What it is: "bolt", "brace", "tray".
    pub item: String,
    /// Where it goes back.
    pub place: String,
    /// How many.
    pub count: u32,
    /// Size, for instance "M6".
    #[serde(default)]
    pub size: String,
    /// Length, mm.
    #[serde(default)]
    pub length_mm: Option<f64>,
    /// A photo of where it goes.
    #[serde(default)]
    pub photo: Option<EntryId>,
    /// The places in that photo.
    #[serde(default)]
    pub at_px: Vec<PointPx>,
}

/// A finished tightening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Tightened {
    /// What was tightened: "pan bolts", "drain plug".
    pub what: String,
    /// Final torque by the maker's data, N·m; `None` when by hand to feel.
    pub torque_nm: Option<f64>,
    /// Every bolt was started by hand first.
    pub by_hand_first: bool,
    /// How many passes.
    pub passes: u32,
}
