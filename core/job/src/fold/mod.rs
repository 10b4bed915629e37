//! Entries in any order of arrival to one state.
//!
//! The fold sorts by hybrid clock, then device, then number, so that the order
//! of arrival does not matter; it leaves out what a live retraction names. A
//! line that refers to another which is not (yet) here, or is retracted, has
//! no effect until its other half arrives.

mod apply;
mod live;
mod state;

use std::collections::BTreeMap;

use crate::entry::Entry;
use crate::id::{EntryId, JobId};

pub use live::retractions;
pub use state::{
    AnswerState, CodesState, ComponentState, CorrectionState, Decision, JobState, LineState, Mark,
    MeasuredAt, NoteState, ObservedAt, PartState, PhotoState, ReadingState, ReplacedState,
    ReportState, ShareState, Stamp, StepState, TightenedState,
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
    let mut state = JobState::new(job);
    for entry in &ordered {
        state.note_line(entry, retracted.get(&entry.id).copied());
        if !retracted.contains_key(&entry.id)
            && let Some(fact) = entry.body.known()
        {
            state.apply(Stamp::of(entry), fact);
        }
    }
    state
}
