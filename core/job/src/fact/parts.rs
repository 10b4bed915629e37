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

/// An adapter (crowfoot) on the wrench.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct AdapterUsed {
    /// Middle of the grip to the middle of the drive, mm.
    pub lever_mm: f64,
    /// Middle of the drive to the middle of the bolt, mm.
    pub adapter_mm: f64,
    /// 0 straight on, 90 square, 180 folded back; degrees.
    pub angle_deg: f64,
}

/// The torque tool, as far as its accuracy goes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum TorqueTool {
    /// A setting wrench with a scale that ends here, N·m (ISO 6789).
    Scale {
        /// End of its scale, N·m.
        most_nm: f64,
    },
    /// By its certificate, ± percent of the setting.
    Percent {
        /// ± percent.
        percent: f64,
    },
}

/// A finished tightening.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
pub struct Tightened {
    /// What was tightened: "pan bolts", "drain plug".
    pub what: String,
    /// Final torque by the maker's data, N·m; `None` when by hand to feel.
    pub torque_nm: Option<f64>,
    /// Every bolt was started by hand first.
    pub by_hand_first: bool,
    /// How many passes.
    pub passes: u32,
    /// How many bolts, in a cross order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub bolts: Option<u32>,
    /// One more round at full torque was made at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub last_round: Option<bool>,
    /// The adapter on the wrench.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub adapter: Option<AdapterUsed>,
    /// The torque tool.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub tool: Option<TorqueTool>,
    /// Turned on by so many degrees from there, as the maker asks.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub angle_deg: Option<f64>,
    /// The torque as it was typed, with its unit, for instance "88 lbf·in".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub typed: Option<String>,
}
