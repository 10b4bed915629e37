//! What the log means: the pure crates asked about the state of a job.

pub(crate) mod corrected;
pub(crate) mod course;
pub(crate) mod explain;
pub(crate) mod fluid;
pub(crate) mod grave;
pub(crate) mod history;
pub(crate) mod patch;
pub(crate) mod reading;
pub(crate) mod standing;
pub(crate) mod tighten;
pub(crate) mod undoable;
pub(crate) mod wear;

use std::sync::Arc;

use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_measure::code::{Explanation, Table};
use swarfbook_wear::Assessment;

use crate::problem::Problem;
use crate::view::ComponentView;
use corrected::Piece;
use grave::Grave;

/// What is known beside the log of a job, and weighs in its judgement.
#[derive(Clone)]
pub(crate) struct Beside {
    /// Earlier visits of the car.
    pub earlier: Vec<history::Visit>,
    /// What codes point at: the table that ships, with the shop's rows before it.
    pub codes: Arc<Table>,
}

/// What is judged about a job, worked out once for all who tell it.
pub(crate) struct Assessed {
    /// The electrical parts with their readings judged.
    pub components: Vec<ComponentView>,
    /// Whether what was found explains the codes.
    pub explanations: Vec<Explanation>,
    /// Score and advice; `Ok(None)` while nothing was read from the pan. An
    /// error is kept, since a job must open without its score too.
    pub wear: Result<Option<Assessment>, Problem>,
    /// What speaks against driving on, beside the score.
    pub grave: Grave,
}

impl Assessed {
    pub fn of(state: &JobState, beside: &Beside) -> Assessed {
        let components = reading::components(state);
        let explanations = explain::explanations(state, &components, &beside.codes);
        let wear = wear::assessment(state, &components, &explanations, &beside.earlier);
        Assessed {
            grave: Grave::of(state, &components),
            components,
            explanations,
            wear,
        }
    }

    /// The pieces that the score counts, each with the photo that shows it.
    pub fn counted_pieces<'a>(
        &self,
        state: &'a JobState,
        beside: &Beside,
    ) -> Result<Vec<(&'a PhotoState, Piece)>, Problem> {
        wear::counted_pieces(state, &self.components, &self.explanations, &beside.earlier)
    }
}
