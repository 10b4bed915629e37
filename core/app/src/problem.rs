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
    /// By which a carrier chooses its status, and a screen what it offers.
    pub kind: ProblemKind,
    /// What happened, to what.
    pub what: String,
    /// What to do.
    pub do_next: String,
    /// The database is not as it was written: from now on the store can only be read.
    #[serde(skip)]
    #[ts(skip)]
    pub damaged: bool,
}

impl Problem {
    /// A problem of this kind.
    pub fn new(kind: ProblemKind, what: impl Into<String>, do_next: impl Into<String>) -> Problem {
        Problem {
            kind,
            what: what.into(),
            do_next: do_next.into(),
            damaged: false,
        }
    }

    pub(crate) fn bad_input(what: impl Into<String>, do_next: impl Into<String>) -> Problem {
        Problem::new(ProblemKind::BadInput, what, do_next)
    }

    pub(crate) fn not_found(what: impl Into<String>) -> Problem {
        Problem::new(
            ProblemKind::NotFound,
            what,
            say!("go-back-to-the-list-and-open-it"),
        )
    }
}

impl From<swarfbook_store::StoreError> for Problem {
    fn from(error: swarfbook_store::StoreError) -> Problem {
        use swarfbook_store::StoreError as E;
        let said = error.to_string();
        let what = format!("{}.", crate::wording::capital(said.trim_end_matches('.')));
        let storage = |next: &str| Problem::new(ProblemKind::Storage, what.clone(), next);
        match &error {
            E::Full => storage(term!("make-room-and-do-it-again-nothing-written")),
            E::Damaged(_) => Problem {
                damaged: true,
                ..storage(term!("it-was-left-as-it-is-and-is"))
            },
            E::Unsaved(_) => storage(term!("it-was-left-as-it-is-bring-back-a")),
            E::Gone(_) => storage(term!("no-new-one-was-begun-put-back-the")),
            E::ReadOnly(why) if why.damaged => {
                storage(term!("nothing-was-written-write-what-is-whole-with"))
            }
            E::ReadOnly(_) => storage(term!("nothing-was-written-make-room-or-make-the")),
            E::Backup(_) => Problem::bad_input(what, say!("name-another-folder")),
            E::Inside { .. } => Problem::bad_input(what, say!("name-a-file-in-another-folder")),
            E::Newer { .. } => storage(term!("update-the-app-the-data-were-left-as")),
            E::Busy => storage(term!("close-the-other-program-or-wait-a-moment")),
            E::Photo(_) => Problem::new(
                ProblemKind::NotFound,
                what,
                say!("take-the-photo-again-or-sync-with-the"),
            ),
            E::PhotoDamaged(_) => storage(term!("add-the-genuine-file-again-or-sync-with")),
            E::Export(_) => {
                Problem::bad_input(what, say!("nothing-was-taken-in-make-the-export-again"))
            }
            E::Gap { .. } | E::Fork { .. } | E::NotItsWriters { .. } => Problem::new(
                ProblemKind::Hub,
                what,
                say!("nothing-was-taken-in-keep-both-devices-as"),
            ),
            E::Entry(_) | E::File { .. } | E::Database { .. } | E::Setting(_) | E::Key(_) => {
                storage(term!("do-it-again-if-it-stays-so-make"))
            }
        }
    }
}

impl From<WearProblem> for Problem {
    fn from(why: WearProblem) -> Problem {
        Problem::bad_input(
            say!("the-wear-score-cant-be-worked-out-why", why = why),
            say!("correct-the-line-that-it-names"),
        )
    }
}
