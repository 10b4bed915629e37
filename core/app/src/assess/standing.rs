//! How an electrical part stands by all its readings, and which of them are of a
//! part that is no longer in the car.

use std::collections::BTreeMap;

use swarfbook_job::fact::Quantity;
use swarfbook_job::fold::JobState;
use swarfbook_job::id::EntryId;

use crate::view::{ReadingVerdict, ReadingView};

/// The worst over the newest reading of each quantity; `None` where none gave a verdict.
///
/// A reading that was not steady, an open contact and a number without limits say nothing
/// about an older verdict. To ground each number does: one that is no short is none,
/// whether the maker names a least or not.
pub(crate) fn worst<'a>(
    readings: impl Iterator<Item = &'a ReadingView>,
) -> Option<&'a ReadingView> {
    let mut newest: BTreeMap<Quantity, &ReadingView> = BTreeMap::new();
    for reading in readings {
        let of_ground = reading.quantity == Quantity::Insulation;
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
pub(crate) struct Generations<'a> {
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
