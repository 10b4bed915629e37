//! Observations and numbers that a procedure asks for, and the decision.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::StepId;

/// One of the offered answers on one topic; the last on a topic at a step counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Observed {
    /// The step.
    pub step: StepId,
    /// What was looked at, for instance "fluid_look".
    pub topic: String,
    /// The answer, for instance "milky".
    pub choice: String,
    /// Words added to it.
    #[serde(default)]
    pub text: String,
}

/// A number on one topic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Measured {
    /// The step.
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
    /// Stop; strip down before more is spent.
    OpenUp,
}
