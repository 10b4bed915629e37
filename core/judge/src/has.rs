//! What a step asks for, and whether the log has it.

use swarfbook_job::fact::{PhotoSubject, ReadingKind};
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Evidence, Step, TightenRole};
use swarfbook_measure::conformity::ReadingVerdict;

use crate::part::Part;
use crate::{Judged, course, level};

/// Whether the log has what a step asks for.
pub fn has(state: &JobState, judged: &Judged, step: &Step, evidence: &Evidence) -> bool {
    match evidence {
        Evidence::Car => state.car.as_ref().is_some_and(|car| {
            let named = !car.plate.trim().is_empty() || car.vin.is_some();
            named && car.odometer_km.is_some()
        }),
        Evidence::Complaint { .. } => state.complaint.is_some(),
        Evidence::Codes { moment } => state.codes.contains_key(moment),
        Evidence::GoAhead => state.go_ahead.is_some(),
        Evidence::Photo { subject, .. } => photo(state, step, *subject),
        Evidence::Observe { topic, .. } => {
            let key = (step.id.clone(), topic.clone());
            state.observed.contains_key(&key)
        }
        Evidence::Measure { topic, .. } | Evidence::Timed { topic, .. } => {
            let mut measured = state.measured.iter();
            measured.any(|m| m.step == step.id && m.topic == *topic)
        }
        Evidence::Text { topic, .. } => {
            let mut notes = state.notes.iter();
            notes.any(|n| n.step == step.id && n.topic.as_deref() == Some(topic))
        }
        Evidence::PartsOff => state.parts.iter().any(|p| p.part.step == step.id),
        Evidence::PartsBack => state.still_off() == 0,
        Evidence::Census => {
            let counted = counted(state);
            counted.readable > 0 && counted.confirmed == counted.readable
        }
        Evidence::Components => !state.components.is_empty(),
        Evidence::Readings { quantity } => {
            let read = read(&judged.parts, *quantity);
            read.good == read.wanted && !judged.parts.is_empty()
        }
        Evidence::Explains => state
            .codes
            .contains_key(&swarfbook_job::fact::Moment::Before),
        Evidence::Decision => {
            state.decision.is_some() && !course::decides_again(state, judged.advised())
        }
        Evidence::Replace { .. } => state.replaced.iter().any(|r| r.step == step.id),
        Evidence::Tighten { role, .. } => {
            closes_nothing(state, *role) || state.tightened.iter().any(|t| t.step == step.id)
        }
        Evidence::Report => state.reports.iter().any(|r| r.withdrawn.is_none()),
        Evidence::Answer => !state.answers.is_empty(),
    }
}

fn photo(state: &JobState, step: &Step, subject: PhotoSubject) -> bool {
    let mut photos = state.photos.iter();
    photos.any(|p| p.step == step.id && p.subject == subject)
}

/// Where the level is read on a dipstick there are no plugs to close.
pub fn closes_nothing(state: &JobState, role: Option<TightenRole>) -> bool {
    role == Some(TightenRole::LevelPlugs) && level::has_dipstick(state)
}

/// Photos that pieces can be counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counted {
    /// Those whose count could be made.
    pub readable: usize,
    /// Those whose count somebody confirmed.
    pub confirmed: usize,
}

/// How far the counts of a job are confirmed.
pub fn counted(state: &JobState) -> Counted {
    let countable = || state.photos.iter().filter(|p| p.subject.kind().is_some());
    let readable = |p: &&swarfbook_job::fold::PhotoState| {
        p.census.as_ref().is_some_and(|c| c.problem.is_none())
    };
    Counted {
        readable: countable().filter(readable).count(),
        confirmed: countable().filter(|p| p.confirmed.is_some()).count(),
    }
}

/// How many parts were read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Read {
    /// Parts that the quantity says something of.
    pub wanted: usize,
    /// Those of them that were read, with good contact.
    pub good: usize,
}

/// How far the parts of a job were read for a quantity.
pub fn read(parts: &[Part], quantity: ReadingKind) -> Read {
    let wanted = || parts.iter().filter(|c| !c.unread.contains(&quantity));
    let good = |part: &&Part| {
        let mut readings = part.readings.iter().rev();
        let last = readings.find(|r| r.quantity == quantity);
        last.is_some_and(|r| r.verdict != ReadingVerdict::TakeAgain)
    };
    Read {
        wanted: wanted().count(),
        good: wanted().filter(good).count(),
    }
}
