//! Withdrawing a report.

use swarfbook_job::id::EntryId;
use swarfbook_words::{say, term};

use super::{LONG, wanted_text};
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;

pub(super) fn withdrawn(loaded: &Loaded, report: EntryId, reason: &str) -> Result<(), Problem> {
    let mut made = loaded.state.reports.iter();
    let made = made
        .find(|made| made.stamp.entry == report)
        .ok_or_else(|| Problem::not_found(say!("No such report was made of this job.")))?;
    if made.withdrawn.is_some() {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("This report was already withdrawn."),
            say!("Undo the line that withdrew it, if it should count again."),
        ));
    }
    wanted_text(term!("The reason, which the customer reads,"), reason, LONG)
}
