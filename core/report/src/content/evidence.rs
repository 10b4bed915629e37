//! What an expert asks beside the figures: instruments, conditions, corrections.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::DebrisClass;

use super::Said;

/// Something that was measured with.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct InstrumentSaid {
    /// What it is: "Meter", "Torque wrench", "Gauge card".
    pub what: String,
    /// Its name and its accuracy, with the lines that it was used in.
    pub said: Said,
    /// Its serial number; empty when it was not stated.
    pub serial: String,
    /// When it was calibrated or checked last; empty when it was not stated.
    pub checked: String,
}

/// How many pieces the machine saw in a photo, and how many there are after the corrections.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CountRow {
    /// The photo, with the line of its count.
    pub photo: Said,
    /// Of this kind only; `None` for all that are debris.
    pub class: Option<DebrisClass>,
    /// By the machine.
    pub machine: u32,
    /// Those that count now.
    pub now: u32,
}

/// What an expert asks beside the figures.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Evidence {
    /// What was measured with.
    pub instruments: Vec<InstrumentSaid>,
    /// Temperatures and other conditions of the measurements.
    pub conditions: Vec<Said>,
    /// Who corrected which piece from what to what.
    pub corrections: Vec<Said>,
    /// The machine's pieces beside those that count, of photos that were corrected.
    pub counts: Vec<CountRow>,
    /// What the pieces are held against: an earlier visit, else that there is none.
    pub reference: Vec<Said>,
    /// The rule by which a verdict is given.
    pub decision_rule: String,
}
