//! How each step stands, and what the decision makes of those that come next.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::{JobState, Mark};
use swarfbook_job::procedure::{Evidence, Procedure, Stage, Step, TopicRole};
use ts_rs::TS;

use crate::wear;

/// How a stage or a step stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Not begun.
    Later,
    /// In hand: the first that is neither done nor left out.
    InHand,
    /// Everything that it asks for was done.
    Done,
    /// Left out, with a reason; or not led through, since the decision is to open up.
    Skipped,
    /// What was decided leads past it; it can be done all the same.
    Passed,
}

/// A stage of the procedure as it stands, with its steps.
#[derive(Debug, Clone)]
pub struct StageStands<'a> {
    /// As the procedure writes it.
    pub stage: &'a Stage,
    /// How it stands by its steps.
    pub standing: Standing,
    /// Its steps, each with how it stands.
    pub steps: Vec<(&'a Step, Standing)>,
}

/// How each stage and step of a job stands; one step at most is in hand.
pub fn stages<'a>(
    state: &JobState,
    procedure: &'a Procedure,
    advised: Option<AdviceChoice>,
) -> Vec<StageStands<'a>> {
    let opening = opening(state);
    let again = decides_again(state, advised);
    let past = |stage: &Stage| opening && closes(procedure, stage);
    let open = |stage: &Stage, step: &Step| !past(stage) && !state.steps.contains_key(&step.id);
    // A decision that is older than the evidence comes before all else.
    let mut in_hand = procedure
        .steps()
        .find(|(stage, step)| {
            if again {
                decides(step)
            } else {
                open(stage, step)
            }
        })
        .map(|(_, step)| step.id.as_str());
    let mut standing = |stage: &Stage, step: &Step| {
        let mark = state.steps.get(&step.id).map(|s| &s.mark);
        // The decision that stands is older than the evidence: it is in hand, marked or not.
        let first = in_hand == Some(step.id.as_str())
            && (mark.is_none() && !past(stage) || mark.is_some() && again);
        match mark {
            _ if first => {
                in_hand = None;
                Standing::InHand
            }
            Some(Mark::Ticked) => Standing::Done,
            Some(Mark::Skipped(_)) => Standing::Skipped,
            None if past(stage) => Standing::Passed,
            None => Standing::Later,
        }
    };
    let stage = |stage: &'a Stage| {
        let steps: Vec<_> = stage
            .steps
            .iter()
            .map(|step| (step, standing(stage, step)))
            .collect();
        StageStands {
            stage,
            standing: together(&steps),
            steps,
        }
    };
    procedure.stages.iter().map(stage).collect()
}

fn decides(step: &Step) -> bool {
    let mut wants = step.evidence.iter();
    wants.any(|want| matches!(want.evidence, Evidence::Decision))
}

fn together(steps: &[(&Step, Standing)]) -> Standing {
    let is = |wanted| move |(_, standing): &(&Step, Standing)| *standing == wanted;
    if steps.iter().any(is(Standing::InHand)) {
        Standing::InHand
    } else if steps.iter().any(is(Standing::Later)) {
        Standing::Later
    } else if steps.iter().all(is(Standing::Passed)) {
        Standing::Passed
    } else if steps.iter().all(is(Standing::Skipped)) {
        Standing::Skipped
    } else {
        Standing::Done
    }
}

/// The decision that stands is to open up: what leads to a closed gearbox is not led through.
fn opening(state: &JobState) -> bool {
    let decided = state.decision.as_ref();
    decided.is_some_and(|decided| decided.chosen == AdviceChoice::OpenUp)
}

/// Whether a stage leads to a closed gearbox and a car that drives. Where the procedure marks no
/// stage (its first versions, a shop's own), those after the decision that tighten, set the level
/// or drive the road do.
fn closes(procedure: &Procedure, stage: &Stage) -> bool {
    if procedure.stages.iter().any(|stage| stage.closing) {
        return stage.closing;
    }
    let holds = |stage: &Stage, wanted: fn(&Evidence) -> bool| {
        let mut wants = stage.steps.iter().flat_map(|step| &step.evidence);
        wants.any(|want| wanted(&want.evidence))
    };
    let decides = |stage: &Stage| holds(stage, |e| matches!(e, Evidence::Decision));
    let mut before = procedure.stages.iter().take_while(|one| one.id != stage.id);
    before.any(decides)
        && holds(stage, |e| match e {
            Evidence::Tighten { .. } => true,
            Evidence::Observe { role, .. } => {
                matches!(role, Some(TopicRole::LevelSeen | TopicRole::RoadTest))
            }
            _ => false,
        })
}

/// The decision is asked again: what the log holds advises graver than it.
pub fn decides_again(state: &JobState, advised: Option<AdviceChoice>) -> bool {
    wear::outdated(state, advised).is_some()
}
