//! What else stands in the log, and how much of it is told.

use serde::{Deserialize, Serialize};

use super::Said;

/// What was seen, measured and noted at one step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NotedAt {
    /// The step: "Magnets as they sit".
    pub step: String,
    /// Each with its name: "On the magnet: thin film".
    pub said: Vec<Said>,
}

/// How many lines of the log are told in the report. Private notes are not among them.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct LogCount {
    /// Lines in all: `told`, `taken_back` and those of `untold` add up to them.
    pub lines: u32,
    /// Lines that something in this report rests on; each is among the sources.
    pub told: u32,
    /// Lines that were taken back and do not count.
    pub taken_back: u32,
    /// Lines that count and are not told one by one, by kind.
    pub untold: Vec<Untold>,
}

/// Lines of one kind that are not told one by one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Untold {
    /// What kind of line: "taps on the photo".
    pub what: String,
    /// How many.
    pub n: u32,
}
