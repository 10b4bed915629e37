//! Entries in any order of arrival to one state.
//!
//! The fold sorts by hybrid clock, then device, then number, so that the order
//! of arrival does not matter; it leaves out what a live retraction names. A
//! line that refers to another which is not (yet) here, or is retracted, has
//! no effect until its other half arrives.

mod apply;
mod component;
mod cost;
mod live;
mod patches;
mod state;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::entry::Entry;
use crate::fact::Fact;
use crate::id::{EntryId, JobId};

pub use component::{ComponentState, HarnessState, ReadingState, ReplacedState};
pub use cost::CostState;
pub use live::retractions;
pub use state::{
    AnswerState, CodesState, CorrectionState, Decision, Hand, JobState, LineState, LinkState, Mark,
    MeasuredAt, NoteState, ObservedAt, PartState, PhotoState, ReportState, ShareState, Stamp,
    StepState, TightenedState, Withdrawn,
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
        // The line that opens a job is by who is named in the line right behind it.
        let opens = matches!(entry.body.known(), Some(Fact::Opened { .. }));
        let behind = ordered
            .iter()
            .find(|next| opens && (next.device, next.seq) == (entry.device, entry.seq + 1))
            .filter(|next| !retracted.contains_key(&next.id));
        let hand = state.hands.entry(entry.device).or_default();
        if let Some(named) = behind.and_then(|next| hand.after(next.body.known()?)) {
            *hand = Arc::new(named);
        }
        if taken_back.is_none()
            && let Some(changed) = entry.body.known().and_then(|fact| hand.after(fact))
        {
            *hand = Arc::new(changed);
        }
        let stamp = Stamp::of(entry, hand.clone());
        state.note_line(stamp.clone(), entry, taken_back);
        if taken_back.is_none()
            && hangs_on.is_none_or(|by| here.contains(by))
            && let Some(fact) = entry.body.known()
        {
            state.apply(stamp, fact);
        }
    }
    // A device of which nothing counts says nothing of who holds it.
    state.hands.retain(|_, hand| **hand != Hand::default());
    state
}
