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
        .ok_or_else(|| Problem::not_found(say!("no-such-report-was-made-of-this-job")))?;
    if made.withdrawn.is_some() {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("this-report-was-already-withdrawn"),
            say!("undo-the-line-that-withdrew-it-if-it"),
        ));
    }
    wanted_text(term!("the-reason-which-the-customer-reads"), reason, LONG)
}
