//! An electrical part by all its readings, and which of them are of a part that is no longer in
//! the car.

use std::collections::BTreeMap;

use swarfbook_job::fact::{Component, ComponentKind, Inside, ReadingKind};
use swarfbook_job::fold::{ComponentState, JobState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::conformity::ReadingVerdict;

use crate::reading::{JudgedReading, judged};

/// An electrical part with its readings judged.
#[derive(Debug, Clone)]
pub struct Part {
    /// The line that noted it.
    pub entry: EntryId,
    /// As it was noted.
    pub name: String,
    /// What kind.
    pub kind: ComponentKind,
    /// The maker's number.
    pub part_number: String,
    /// Codes that name it.
    pub codes: Vec<String>,
    /// What says nothing of such a part.
    pub unread: Vec<ReadingKind>,
    /// Readings, oldest first.
    pub readings: Vec<JudgedReading>,
    /// How the part in the car stands; `None` without a verdict.
    pub standing: Option<ReadingVerdict>,
    /// How the part that the car came in with stood.
    pub as_found: Option<ReadingVerdict>,
    /// It was replaced.
    pub replaced: bool,
}

/// Why a quantity says nothing of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Silent {
    /// Its case is its other pole: a path to ground is its winding.
    GroundedByCase,
    /// Ohms say nothing of an active sensor.
    ActiveSensor,
    /// It is nothing that such a part has: pressure of a solenoid, ohms of a test port.
    HasNone,
}

/// The electrical parts of a job, judged.
pub fn parts(state: &JobState) -> Vec<Part> {
    let noted = state.components.iter();
    noted.map(|component| part(state, component)).collect()
}

fn part(state: &JobState, component: &ComponentState) -> Part {
    let noted = &component.component;
    let generations = Generations::of(state, component.stamp.entry);
    let readings: Vec<JudgedReading> = component
        .readings
        .iter()
        .map(|reading| JudgedReading {
            of_replaced: generations.is_of_replaced(reading.stamp.entry),
            ..judged(state, component, reading)
        })
        .collect();
    let standing = worst(readings.iter().filter(|reading| !reading.of_replaced));
    let of_first = |reading: &&JudgedReading| generations.is_of_first(reading.entry);
    let as_found = worst(readings.iter().filter(of_first));
    Part {
        entry: component.stamp.entry,
        name: noted.name.clone(),
        kind: noted.kind,
        part_number: noted.part_number.clone(),
        codes: noted.codes.clone(),
        unread: ReadingKind::ALL
            .into_iter()
            .filter(|quantity| says_nothing(noted, *quantity).is_some())
            .collect(),
        standing: standing.map(|reading| reading.verdict),
        as_found: as_found.map(|reading| reading.verdict),
        readings,
        replaced: generations.were_several(),
    }
}

/// Why a quantity says nothing of a part, where it does not: nothing is judged by
/// what it is not.
pub fn says_nothing(part: &Component, quantity: ReadingKind) -> Option<Silent> {
    let by_case = part.grounded_by_case && quantity == ReadingKind::Insulation;
    if by_case {
        return Some(Silent::GroundedByCase);
    }
    match (part.kind.inside(), quantity) {
        (Inside::Oil, ReadingKind::Pressure)
        | (Inside::Turning, ReadingKind::Stall)
        | (Inside::Unknown, ReadingKind::Pressure | ReadingKind::Stall) => None,
        (Inside::Oil | Inside::Turning, _) | (_, ReadingKind::Pressure | ReadingKind::Stall) => {
            Some(Silent::HasNone)
        }
        // What is put on electronics by hand can destroy them, and contacts are no load.
        (Inside::Electronics | Inside::Contacts | Inside::Thermistor, ReadingKind::Applied) => {
            Some(Silent::HasNone)
        }
        (Inside::Electronics, ReadingKind::Resistance | ReadingKind::Insulation) => {
            Some(Silent::ActiveSensor)
        }
        _ => None,
    }
}

/// The worst over the newest reading of each quantity; `None` where none gave a verdict.
///
/// A reading that was not steady, an open contact and a number without limits say nothing
/// about an older verdict. To ground each number does: one that is no short is none,
/// whether the maker names a least or not.
pub fn worst<'a>(readings: impl Iterator<Item = &'a JudgedReading>) -> Option<&'a JudgedReading> {
    let mut newest: BTreeMap<ReadingKind, &JudgedReading> = BTreeMap::new();
    for reading in readings {
        let of_ground = reading.quantity == ReadingKind::Insulation;
        match reading.verdict {
            ReadingVerdict::NoSpec if of_ground => {
                newest.remove(&reading.quantity);
            }
            ReadingVerdict::NoSpec | ReadingVerdict::TakeAgain => {}
            _ => {
                newest.insert(reading.quantity, reading);
            }
        }
    }
    newest
        .into_values()
        .max_by_key(|reading| rank(reading.verdict))
}

/// The worse, the higher; `None` for what is no verdict.
fn rank(verdict: ReadingVerdict) -> Option<u8> {
    match verdict {
        ReadingVerdict::InSpec => Some(0),
        ReadingVerdict::TooCloseToCall => Some(1),
        ReadingVerdict::OutOfSpec => Some(2),
        ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec => None,
    }
}

/// The parts that were in one place of the car, one after another: a line belongs to
/// the part that was there when it was written.
#[derive(Debug)]
pub struct Generations<'a> {
    state: &'a JobState,
    /// Places in the log of the first and the last replacement.
    changed: Option<(usize, usize)>,
}

impl<'a> Generations<'a> {
    /// Those of a component, by the line that noted it.
    pub fn of(state: &'a JobState, component: EntryId) -> Generations<'a> {
        let replaced = state
            .replaced
            .iter()
            .filter(|r| r.replacement.component == Some(component))
            .filter_map(|r| place(state, r.stamp.entry));
        let changed = replaced.fold(None, |changed: Option<(usize, usize)>, at| {
            Some(changed.map_or((at, at), |(first, last)| (first.min(at), last.max(at))))
        });
        Generations { state, changed }
    }

    /// The part was replaced.
    pub fn were_several(&self) -> bool {
        self.changed.is_some()
    }

    /// The line is of the part that the car came in with.
    pub fn is_of_first(&self, line: EntryId) -> bool {
        self.is_before(line, self.changed.map(|(first, _)| first))
    }

    /// The line is of a part that is no longer in the car.
    pub fn is_of_replaced(&self, line: EntryId) -> bool {
        self.changed.is_some() && self.is_before(line, self.changed.map(|(_, last)| last))
    }

    fn is_before(&self, line: EntryId, change: Option<usize>) -> bool {
        match (place(self.state, line), change) {
            (Some(line), Some(change)) => line < change,
            _ => true,
        }
    }
}

/// Where a line stands in the log's order.
fn place(state: &JobState, line: EntryId) -> Option<usize> {
    state.lines.iter().position(|l| l.stamp.entry == line)
}
