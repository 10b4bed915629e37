//! From a folded job, and the car's earlier ones, to all that follows from it: in types, without
//! words. What the reference crates say in words themselves (`swarfbook_measure`,
//! `swarfbook_wear`) is handed on as they say it.

pub mod corrected;
pub mod course;
pub mod explain;
pub mod fluid;
pub mod grave;
pub mod gravest;
pub mod harness;
pub mod has;
pub mod history;
pub mod level;
pub mod onward;
pub mod part;
pub mod patch;
pub mod reading;
pub mod record;
pub mod situation;
pub mod tick;
pub mod tighten;
pub mod tray;
pub mod undo;
pub mod wear;

use std::sync::Arc;

use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_measure::code::{Explanation, Table};
use swarfbook_wear::{Assessment, WearProblem};

use corrected::Piece;
use grave::Grave;
use part::Part;

/// What is known beside the log of a job, and weighs in its judgement.
#[derive(Debug, Clone)]
pub struct Beside {
    /// Earlier visits of the car.
    pub earlier: Vec<history::Visit>,
    /// What was advised and chosen at visits before this one, the latest first.
    pub chosen: Vec<history::Chosen>,
    /// What codes point at: the table that ships, with the shop's rows before it.
    pub codes: Arc<Table>,
}

/// What is judged about a job, worked out once for all who tell it.
#[derive(Debug, Clone)]
pub struct Judged {
    /// The electrical parts with their readings judged.
    pub parts: Vec<Part>,
    /// Whether what was found explains the codes.
    pub explanations: Vec<Explanation>,
    /// Score and advice; `Ok(None)` while nothing was read from the pan. An
    /// error is kept, since a job must open without its score too.
    pub wear: Result<Option<Assessment>, WearProblem>,
    /// What speaks against driving on, beside the score.
    pub grave: Grave,
}

impl Judged {
    /// Judges a job.
    pub fn of(state: &JobState, beside: &Beside) -> Judged {
        let parts = part::parts(state);
        let explanations = explain::explanations(state, &parts, &beside.codes);
        let wear = wear::assessment(state, &parts, &explanations, &beside.earlier);
        Judged {
            grave: Grave::of(state, &parts),
            parts,
            explanations,
            wear,
        }
    }

    /// Score and advice, where they can be given.
    pub fn assessment(&self) -> Option<&Assessment> {
        self.wear.as_ref().ok().and_then(Option::as_ref)
    }

    /// What is advised, where it can be.
    pub fn advised(&self) -> Option<AdviceChoice> {
        self.assessment().map(|a| a.advice.advised.choice())
    }

    /// The pieces that the score counts, each with the photo that shows it.
    ///
    /// # Errors
    /// As the score's.
    pub fn counted_pieces<'a>(
        &self,
        state: &'a JobState,
        beside: &Beside,
    ) -> Result<Vec<(&'a PhotoState, Piece)>, WearProblem> {
        wear::counted_pieces(state, &self.parts, &self.explanations, &beside.earlier)
    }
}
