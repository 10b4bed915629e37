//! What a step wants the log to hold.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{TightenRole, TopicRole};
use crate::fact::{Moment, PhotoSubject, ReadingKind};

/// One wish of a step: what, and whether the step can be ticked without it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Want {
    /// What is wanted.
    #[serde(flatten)]
    pub evidence: Evidence,
    /// The step can be ticked without it.
    #[serde(default)]
    pub optional: bool,
}

/// One of the answers to an observation.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// Its name in the log.
    pub id: String,
    /// What the technician reads.
    pub label: String,
    /// What it says, where the code needs to know: a name of the kind of answer that the
    /// question's role has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub role: Option<String>,
    /// More is to be done after this answer: the step does not tick itself.
    #[serde(default)]
    pub hold: bool,
    /// It rules out every other answer, where several may hold.
    #[serde(default)]
    pub alone: bool,
    /// It asks for words.
    #[serde(default)]
    pub named: bool,
}

/// The kinds of evidence.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Evidence {
    /// Plate or VIN, distance, last fluid change.
    Car,
    /// The customer's words, and when it shows.
    Complaint {
        /// When it may show.
        when: Vec<Choice>,
        /// What it may do.
        #[serde(default)]
        symptoms: Vec<Choice>,
    },
    /// Codes read out.
    Codes {
        /// Before or after.
        moment: Moment,
    },
    /// Leave to open, with a limit of cost.
    GoAhead,
    /// A photo, or several.
    Photo {
        /// What it shows.
        subject: PhotoSubject,
        /// What the technician reads.
        label: String,
    },
    /// One answer of several.
    Observe {
        /// Its name in the log.
        topic: String,
        /// What the question is about, where the code needs its answer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        role: Option<TopicRole>,
        /// What the technician reads.
        label: String,
        /// At least two, in the order of the keys.
        choices: Vec<Choice>,
        /// Several may hold.
        #[serde(default)]
        several: bool,
    },
    /// A number between two bounds, in a unit of its own.
    Measure {
        /// Its name in the log.
        topic: String,
        /// What the question is about, where the code needs its answer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        role: Option<TopicRole>,
        /// What the technician reads.
        label: String,
        /// Its symbol: "l", "°C", "mm".
        unit: String,
        /// The least that is possible.
        min: f64,
        /// The most that is possible.
        max: f64,
        /// How far one turn of the dial goes.
        step: f64,
        /// Several entries add up, instead of the last one counting.
        #[serde(default)]
        adds: bool,
        /// Numbers that have a key of their own: often met, never proposed.
        #[serde(default)]
        quick: Vec<f64>,
        /// An earlier topic whose number has a key too: what went in is about what came out.
        #[serde(default)]
        about: Option<String>,
    },
    /// A time in seconds, from one press to the next, or as it was typed.
    Timed {
        /// Its name in the log.
        topic: String,
        /// What the technician reads.
        label: String,
        /// The longest that is possible.
        max_s: f64,
    },
    /// The technician's own words.
    Text {
        /// Its name in the log.
        topic: String,
        /// What the question is about, where the code needs its answer.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        role: Option<TopicRole>,
        /// What the technician reads.
        label: String,
    },
    /// What came off.
    PartsOff,
    /// What goes back.
    PartsBack,
    /// The census of the patch, pan and magnet photos, confirmed; score and advice.
    Census,
    /// Electrical parts, by the maker's diagram.
    Components,
    /// Readings of the components.
    Readings {
        /// What is read.
        quantity: ReadingKind,
    },
    /// What the readings and codes say about the complaint.
    Explains,
    /// The decision point: the advice taken, or overruled with a reason.
    Decision,
    /// Parts out and in.
    Replace {
        /// What the step is about: "solenoid", "filter".
        what: String,
        /// It is one of the electrical parts: what reads out of spec is offered.
        #[serde(default)]
        electrical: bool,
    },
    /// Bolts tightened.
    Tighten {
        /// What is tightened.
        what: String,
        /// What that is, where the code needs to know.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        role: Option<TightenRole>,
        /// In how many passes by common practice; the maker's data go before.
        #[serde(default = "one_pass")]
        passes: u32,
    },
    /// The report, read through and made.
    Report,
    /// The customer's answer to what the report advises.
    Answer,
}

fn one_pass() -> u32 {
    1
}

/// What a wish asks that one number answers: in its line, a `Measured`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number<'a> {
    /// Its name in the log.
    pub topic: &'a str,
    /// What the technician reads.
    pub label: &'a str,
    /// Its symbol: "l", "°C", "mm".
    pub unit: &'a str,
    /// The least that is possible.
    pub min: f64,
    /// The most that is possible.
    pub max: f64,
    /// Several lines add up, instead of the last one counting.
    pub adds: bool,
}

impl Evidence {
    /// What it asks, where a number answers it.
    pub fn number(&self) -> Option<Number<'_>> {
        match self {
            Evidence::Measure {
                topic,
                label,
                unit,
                min,
                max,
                adds,
                ..
            } => Some(Number {
                topic,
                label,
                unit,
                min: *min,
                max: *max,
                adds: *adds,
            }),
            Evidence::Timed {
                topic,
                label,
                max_s,
            } => Some(Number {
                topic,
                label,
                unit: "s",
                min: 0.0,
                max: *max_s,
                adds: false,
            }),
            _ => None,
        }
    }

    /// What the procedure calls an observation, a number or a text.
    pub fn label(&self) -> Option<&str> {
        match self {
            Evidence::Observe { label, .. } | Evidence::Text { label, .. } => Some(label),
            _ => self.number().map(|number| number.label),
        }
    }

    /// The topic of an observation, a number or a text.
    pub fn topic(&self) -> Option<&str> {
        match self {
            Evidence::Observe { topic, .. } | Evidence::Text { topic, .. } => Some(topic),
            _ => self.number().map(|number| number.topic),
        }
    }
}
