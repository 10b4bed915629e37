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
            say!("Go back to the list and open it again."),
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
            E::Full => storage(term!(
                "Make room and do it again. Nothing written before is lost."
            )),
            E::Damaged(_) => Problem {
                damaged: true,
                ..storage(term!(
                    "It was left as it is, and is only read from now on: do it again to see what can be saved. Keep a copy of the folder, and bring back a backup, or the last export into a new folder."
                ))
            },
            E::Gone(_) => storage(term!(
                "No new one was begun. Put back the database with the files beside it, bring back a backup or an export into a new folder, or choose another folder to begin anew."
            )),
            E::ReadOnly(why) if why.damaged => storage(term!(
                "Nothing was written. Write what is whole with `swarfbook export` and take it into a new folder with `swarfbook import`, or bring back a backup with `swarfbook restore`."
            )),
            E::ReadOnly(_) => storage(term!(
                "Nothing was written. Make room or make the folder writable, and start again; an export to another disk works all the same."
            )),
            E::Backup(_) => Problem::bad_input(what, say!("Name another folder.")),
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
            E::Gap { .. } | E::Fork { .. } | E::NotItsWriters { .. } => Problem::new(
                ProblemKind::Hub,
                what,
                say!(
                    "Nothing was taken in. Keep both devices as they are and compare their exports."
                ),
            ),
            E::Entry(_) | E::File { .. } | E::Database { .. } | E::Setting(_) | E::Key(_) => {
                storage(term!(
                    "Do it again; if it stays so, make an export and a copy of the folder."
                ))
            }
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
