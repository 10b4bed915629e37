//! A procedure: the stages and steps of the work as data, which a shop can write itself.
//!
//! Form: TOML, see `core/job/procedures/pan-service-electrical.toml`, which ships.

mod answer;
mod evidence;
mod load;
mod role;
mod told;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use answer::{
    ComplaintNow, FilterFound, FluidLook, KnownPart, Leak, LevelSeen, NotedColour, Paste, Smell,
    SteelFeel, Symptom,
};
pub use evidence::{Choice, Evidence, Number, Want};
pub use load::{ProcedureError, load};
pub use role::{Answer, Roles, StepRole, TightenRole, TopicRole};

use crate::fact::StepId;

/// The procedure that ships with the tool, as new jobs follow it. Once a version has
/// shipped it is never edited: a change is a copy of it under the next number, and
/// the old text stays below.
pub const BUILT_IN: &str = include_str!("../../procedures/pan-service-electrical.toml");

/// Its earlier versions, oldest first: jobs that began with one are told by it for ever.
pub const BUILT_IN_EARLIER: [&str; 6] = [
    include_str!("../../procedures/pan-service-electrical-1.toml"),
    include_str!("../../procedures/pan-service-electrical-2.toml"),
    include_str!("../../procedures/pan-service-electrical-3.toml"),
    include_str!("../../procedures/pan-service-electrical-4.toml"),
    include_str!("../../procedures/pan-service-electrical-5.toml"),
    include_str!("../../procedures/pan-service-electrical-6.toml"),
];

/// The stages and steps of one kind of work.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Its name in the log: small letters, digits and hyphens.
    pub id: String,
    /// Raised with each change; a job keeps the version that it began with.
    pub version: u32,
    /// What the technician reads.
    pub title: String,
    /// The stages, in order.
    #[serde(rename = "stage")]
    pub stages: Vec<Stage>,
}

/// A stretch of the job: one knot of the spine.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Stage {
    /// Its name in the log.
    pub id: String,
    /// What the technician reads.
    pub title: String,
    /// Shown before the first step of the stage.
    #[serde(default)]
    pub caution: Option<String>,
    /// It leads to a closed gearbox and a car that drives: not led through where the decision
    /// is to open up.
    #[serde(default)]
    pub closing: bool,
    /// The drawing that stands for it, by its name; its own id where none is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<String>,
    /// The steps, in order.
    #[serde(rename = "step")]
    pub steps: Vec<Step>,
}

/// One thing to do, and what the log must hold of it.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub struct Step {
    /// Its name in the log; unique in the procedure.
    pub id: StepId,
    /// What the code needs of it; names are the procedure's own.
    #[serde(default)]
    pub role: Option<StepRole>,
    /// What to do, in a few words.
    pub title: String,
    /// What to do, in a sentence or two.
    #[serde(default)]
    pub text: String,
    /// Why it is done.
    #[serde(default)]
    pub why: String,
    /// Shown with the step.
    #[serde(default)]
    pub caution: Option<String>,
    /// The drawing that shows it, by its name; its own id where none is said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<String>,
    /// The step ticks itself when the last of its evidence arrives. For steps
    /// whose evidence is the work; a step that is more than that is ticked by hand.
    #[serde(default)]
    pub ticks_itself: bool,
    /// What may stand in the way of ticking it.
    #[serde(default)]
    pub gate: Option<Gate>,
    /// What the log must hold.
    #[serde(default)]
    pub evidence: Vec<Want>,
}

/// A condition of the whole job that must hold before a step is ticked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Gate {
    /// Everything that came off is back.
    PartsBack,
}

impl Procedure {
    /// Every step with its stage, in order.
    pub fn steps(&self) -> impl Iterator<Item = (&Stage, &Step)> {
        self.stages
            .iter()
            .flat_map(|stage| stage.steps.iter().map(move |step| (stage, step)))
    }

    /// The step of that name.
    pub fn step(&self, id: &str) -> Option<(&Stage, &Step)> {
        self.steps().find(|(_, step)| step.id == id)
    }

    /// The wish for an observation or a measure on `topic` at `step`.
    pub fn topic(&self, step: &str, topic: &str) -> Option<&Want> {
        let (_, step) = self.step(step)?;
        step.evidence
            .iter()
            .find(|want| want.evidence.topic() == Some(topic))
    }
}
