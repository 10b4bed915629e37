//! Entries in any order of arrival to one state.
//!
//! The fold sorts by hybrid clock, then device, then number, so that the order
//! of arrival does not matter; it leaves out what a live retraction names. A
//! line that refers to another which is not (yet) here, or is retracted, has
//! no effect until its other half arrives.

mod apply;
mod live;
mod patches;
mod state;

use std::collections::{BTreeMap, BTreeSet};

use crate::entry::Entry;
use crate::fact::Fact;
use crate::id::{EntryId, JobId};

pub use live::retractions;
pub use state::{
    AnswerState, CodesState, ComponentState, CorrectionState, Decision, JobState, LineState,
    LinkState, Mark, MeasuredAt, NoteState, ObservedAt, PartState, PhotoState, ReadingState,
    ReplacedState, ReportState, ShareState, Stamp, StepState, TightenedState, Withdrawn,
};

/// The state that `entries` of one job tell. Entries of other jobs are left out.
pub fn fold<'a>(job: JobId, entries: impl IntoIterator<Item = &'a Entry>) -> JobState {
    let mut ordered: BTreeMap<_, &Entry> = BTreeMap::new();
    for entry in entries {
        if entry.job == job {
            ordered.insert((entry.hlc, entry.device, entry.seq), entry);
        }
    }
    let ordered: Vec<&Entry> = ordered.into_values().collect();
    let retracted: BTreeMap<EntryId, EntryId> = retractions(&ordered);
    let here: BTreeSet<EntryId> = ordered.iter().map(|entry| entry.id).collect();
    let mut state = JobState::new(job);
    for entry in &ordered {
        let hangs_on = match entry.body.known() {
            Some(Fact::StepSettled { by, .. }) => Some(by),
            _ => None,
        };
        // Its own retraction, or that of the line it hangs on.
        let taken_back = retracted
            .get(&entry.id)
            .or_else(|| retracted.get(hangs_on?))
            .copied();
        state.note_line(entry, taken_back);
        if taken_back.is_none()
            && hangs_on.is_none_or(|by| here.contains(by))
            && let Some(fact) = entry.body.known()
        {
            state.apply(Stamp::of(entry), fact);
        }
    }
    state
}
