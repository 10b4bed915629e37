//! How each step stands, and what the decision makes of those that come next.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::{JobState, Mark};
use swarfbook_job::procedure::{Evidence, Procedure, Stage, Step};

use super::{Assessed, fluid, wear};
use crate::view::Standing;

/// A stage of the procedure as it stands, with its steps.
pub(crate) struct StageStands<'a> {
    pub stage: &'a Stage,
    pub standing: Standing,
    pub steps: Vec<(&'a Step, Standing)>,
}

/// How each stage and step of a job stands; one step at most is in hand.
pub(crate) fn stages<'a>(
    state: &JobState,
    procedure: &'a Procedure,
    assessed: &Assessed,
) -> Vec<StageStands<'a>> {
    let opening = opening(state);
    let again = decides_again(state, assessed);
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
            Evidence::Observe { topic, .. } => topic == fluid::LEVEL_SEEN || topic == "road_test",
            _ => false,
        })
}

/// The decision is asked again: what the log holds advises graver than it.
pub(crate) fn decides_again(state: &JobState, assessed: &Assessed) -> bool {
    let judged = assessed.wear.as_ref().ok().and_then(Option::as_ref);
    wear::outdated(state, judged).is_some()
}
