//! Electrical readings against their spec.

use serde::{Deserialize, Serialize};

use super::{Fixed, Said};
use swarfbook_job::id::EntryId;
use swarfbook_measure::conformity::ReadingVerdict;

/// An electrical part with its readings.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ComponentSaid {
    /// Its name in the maker's diagram.
    pub name: String,
    /// What kind: "on/off solenoid".
    pub kind: String,
    /// What it does, for who knows nothing of gearboxes; may be empty.
    pub plain: String,
    /// Its limits and where they come from, one a quantity.
    pub spec: Vec<Said>,
    /// The readings that count, in order.
    pub readings: Vec<ReadingSaid>,
    /// What parts of the same number say.
    pub siblings: Option<Said>,
    /// It was replaced.
    pub replaced: bool,
    /// The line that noted it.
    #[serde(default)]
    pub from: Vec<EntryId>,
}

/// One reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReadingSaid {
    /// "Winding resistance: 37.8 ohm, ± 0.6".
    pub said: Said,
    /// What the bench made of it.
    pub verdict: ReadingVerdict,
    /// In words: "out of spec, certain".
    pub verdict_words: String,
    /// The rule by which it is given, and between which values that leaves in spec; empty
    /// where no limit decides.
    #[serde(default)]
    pub rule: String,
    /// Where it lies; `None` when there is nothing to draw.
    pub plot: Option<Plot>,
    /// How it was worked out, line by line.
    pub steps: Vec<String>,
}

/// A value beside its limits, all in `unit`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plot {
    /// Lower limit; `None` where there is none.
    pub low: Option<Fixed>,
    /// Upper limit; `None` where there is none.
    pub high: Option<Fixed>,
    /// The value; `None` for an open circuit, which lies beyond any limit.
    pub value: Option<Fixed>,
    /// Expanded uncertainty of the value (k = 2).
    pub expanded_u: Option<Fixed>,
    /// "ohm".
    pub unit: String,
}
