//! What went wrong, in the user's words.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Which kind of thing went wrong, for the screen to act on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ProblemKind {
    /// The request itself can't be understood.
    BadRequest,
    /// What was entered can't be right.
    BadInput,
    /// What was entered is doubtful: ask, and send it again with `sure`.
    Doubtful,
    /// Something must be done first.
    NotYet,
    /// There is no such job, line, photo, customer or procedure.
    NotFound,
    /// The disk is full or the database can't be read.
    Storage,
    /// The hub can't be reached or refused.
    Hub,
}

/// An error that says what happened, to what, and what to do. Nothing was changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS, thiserror::Error)]
#[error("{what} {do_next}")]
pub struct Problem {
    /// Which kind.
    pub kind: ProblemKind,
    /// What happened, to what.
    pub what: String,
    /// What to do.
    pub do_next: String,
}

impl Problem {
    /// A problem of this kind.
    pub fn new(kind: ProblemKind, what: impl Into<String>, do_next: impl Into<String>) -> Problem {
        Problem {
            kind,
            what: what.into(),
            do_next: do_next.into(),
        }
    }

    pub(crate) fn bad_input(what: impl Into<String>, do_next: impl Into<String>) -> Problem {
        Problem::new(ProblemKind::BadInput, what, do_next)
    }

    pub(crate) fn not_found(what: impl Into<String>) -> Problem {
        Problem::new(
            ProblemKind::NotFound,
            what,
            "Go back to the list and open it again.",
        )
    }
}
