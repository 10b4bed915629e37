//! What the log means: the pure crates asked about the state of a job.

pub(crate) mod corrected;
pub(crate) mod explain;
pub(crate) mod fluid;
pub(crate) mod reading;
pub(crate) mod wear;

use swarfbook_job::fold::JobState;
use swarfbook_measure::code::Explanation;
use swarfbook_wear::Assessment;

use crate::problem::Problem;
use crate::view::ComponentView;

/// What is judged about a job, worked out once for all who tell it.
pub(crate) struct Assessed {
    /// The electrical parts with their readings judged.
    pub components: Vec<ComponentView>,
    /// Whether what was found explains the codes.
    pub explanations: Vec<Explanation>,
    /// Score and advice; `Ok(None)` while nothing was read from the pan. An
    /// error is kept, since a job must open without its score too.
    pub wear: Result<Option<Assessment>, Problem>,
}

impl Assessed {
    pub fn of(state: &JobState) -> Assessed {
        let components = reading::components(state);
        let explanations = explain::explanations(state, &components);
        let wear = wear::assessment(state, &components, &explanations);
        Assessed {
            components,
            explanations,
            wear,
        }
    }
}
