//! What the decision makes of the steps that come next.

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::JobState;

use super::{Assessed, wear};

/// The decision that stands is to open up: what leads to a closed gearbox is not led through.
pub(crate) fn opening(state: &JobState) -> bool {
    let decided = state.decision.as_ref();
    decided.is_some_and(|decided| decided.chosen == AdviceChoice::OpenUp)
}

/// The decision is asked again: what the log holds advises graver than it.
pub(crate) fn decides_again(state: &JobState, assessed: &Assessed) -> bool {
    let judged = assessed.wear.as_ref().ok().and_then(Option::as_ref);
    wear::outdated(state, judged).is_some()
}
