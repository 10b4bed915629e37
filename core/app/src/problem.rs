//! What went wrong, in the user's words.

use serde::{Deserialize, Serialize};
use swarfbook_wear::WearProblem;
use swarfbook_words::{say, term};
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
    /// A customer's link asks for the code that was told by phone, or got a wrong one.
    CodeWanted,
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
            say!("Go back to the list and open it again."),
        )
    }
}

impl From<swarfbook_store::StoreError> for Problem {
    fn from(error: swarfbook_store::StoreError) -> Problem {
        use swarfbook_store::StoreError as E;
        let what = format!("{}.", crate::wording::capital(&error.to_string()));
        let storage = |next: &str| Problem::new(ProblemKind::Storage, what.clone(), next);
        match &error {
            E::Full => storage(term!(
                "Make room and do it again. Nothing written before is lost."
            )),
            E::Damaged(_) => storage(term!(
                "It was left as it is: keep a copy of the folder, and bring back the last export or sync from the hub."
            )),
            E::Newer { .. } => storage(term!("Update the app; the data were left as they are.")),
            E::Busy => storage(term!(
                "Close the other program, or wait a moment, and do it again."
            )),
            E::Photo(_) => Problem::new(
                ProblemKind::NotFound,
                what,
                say!("Take the photo again, or sync with the device that took it."),
            ),
            E::PhotoDamaged(_) => storage(term!(
                "Add the genuine file again, or sync with a device that has it: either mends it. All else of the job is as it was."
            )),
            E::Export(_) => Problem::bad_input(
                what,
                say!(
                    "Nothing was taken in. Make the export again where it came from, and copy it whole."
                ),
            ),
            E::Gap { .. } | E::Fork { .. } => Problem::new(
                ProblemKind::Hub,
                what,
                say!(
                    "Nothing was taken in. Keep both devices as they are and compare their exports."
                ),
            ),
            E::Entry(_) | E::File { .. } | E::Sqlite(_) | E::Setting(_) => storage(term!(
                "Do it again; if it stays so, make an export and a copy of the folder."
            )),
        }
    }
}

impl From<WearProblem> for Problem {
    fn from(why: WearProblem) -> Problem {
        Problem::bad_input(
            say!("The wear score can't be worked out: {}", why),
            say!("Correct the line that it names."),
        )
    }
}
