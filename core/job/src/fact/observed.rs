//! Observations and numbers that a procedure asks for, and the decision.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::StepId;

/// One of the offered answers on one topic, or several where several may hold; the last
/// line on a topic at a step counts.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Observed {
    /// The step that asks, by its id in the procedure.
    pub step: StepId,
    /// What was looked at, for instance "fluid_look".
    pub topic: String,
    /// The answer, for instance "milky".
    pub choice: String,
    /// Further answers that hold beside it, where the topic allows several.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<String>>", optional)]
    pub also: Vec<String>,
    /// Words added to it.
    #[serde(default)]
    pub text: String,
}

/// A number on one topic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Measured {
    /// The step that asks, by its id in the procedure.
    pub step: StepId,
    /// What was measured, for instance "fluid_out_l".
    pub topic: String,
    /// The number in the topic's unit.
    pub value: f64,
    /// As it was typed or dialled.
    pub typed: String,
}

/// What to do about the gearbox.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum AdviceChoice {
    /// Finish the work.
    CarryOn,
    /// Finish, and look again after a stated distance.
    Watch,
    /// Do the tests that are named before the gearbox is closed or more is spent.
    TestFirst,
    /// Stop; strip down before more is spent.
    OpenUp,
}
