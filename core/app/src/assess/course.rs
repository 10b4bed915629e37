//! What the decision makes of the steps that come next.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Evidence, Procedure, Stage};

use super::{Assessed, fluid, wear};

/// The decision that stands is to open up: what leads to a closed gearbox is not led through.
pub(crate) fn opening(state: &JobState) -> bool {
    let decided = state.decision.as_ref();
    decided.is_some_and(|decided| decided.chosen == AdviceChoice::OpenUp)
}

/// Whether a stage leads to a closed gearbox and a car that drives. Where the procedure marks no
/// stage (its first versions, a shop's own), those after the decision that tighten, set the level
/// or drive the road do.
pub(crate) fn closes(procedure: &Procedure, stage: &Stage) -> bool {
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
