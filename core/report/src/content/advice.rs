//! What is advised, what was decided, and what was left out.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{AdviceChoice, CostOf};

use super::Said;

/// How soon.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Urgency {
    /// Before the car is driven again.
    BeforeDriving,
    /// Within days or the distance stated.
    Soon,
    /// At the next visit, or after the distance stated.
    NextVisit,
    /// When it suits.
    WhenItSuits,
}

/// One thing that is advised. The customer answers per item, so each stands alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AdviceItem {
    /// What to do: "Have the gearbox opened before more is spent on it."
    pub what: String,
    /// How soon.
    pub urgency: Urgency,
    /// Why, each with what it rests on.
    pub why: Vec<Said>,
    /// What happens if it is left.
    pub if_left: String,
    /// What a price for it is given by.
    pub of: CostOf,
    /// What the shop asks for it; `None` where it said nothing.
    #[serde(default)]
    pub price: Option<Said>,
}

/// What the technician decided at the decision point.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct DecisionSaid {
    /// What the tool advised then.
    pub advised: AdviceChoice,
    /// What was decided.
    pub chosen: AdviceChoice,
    /// Why, where it differs.
    pub reason: Option<String>,
    /// In words, with its line.
    pub said: Said,
}

/// Something that was not done or not looked at.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NotDone {
    /// The step, or the look that is missing.
    pub what: Said,
    /// Why: the technician's reason, or "not reached yet".
    pub reason: String,
}
