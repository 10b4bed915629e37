//! What is grave about a job beside the score: nothing calm is said while there is any of it,
//! on the screens or in the report.

use swarfbook_job::fold::JobState;
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::{Answer, Leak, TopicRole};
use swarfbook_measure::conformity::ReadingVerdict;

use crate::level;
use crate::part::{Part, worst};

/// A look again later than this is calm, km.
pub const FAR_KM: f64 = 10_000.0;

/// What was found, each with the line that says it.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Grave {
    /// Electrical parts in the car that read out of their limits.
    pub parts_out: Vec<PartOut>,
    /// How many things are still off the car.
    pub still_off: u32,
    /// The last leak check saw a leak.
    pub leak: Option<EntryId>,
    /// The level was looked at last, and is not right.
    pub level: Option<EntryId>,
}

/// A part that failed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartOut {
    /// The line that noted it.
    pub entry: EntryId,
    /// As it was noted.
    pub name: String,
    /// The reading that says so.
    pub reading: EntryId,
}

impl Grave {
    /// What speaks against driving on.
    pub fn of(state: &JobState, parts: &[Part]) -> Grave {
        Grave {
            parts_out: parts.iter().filter_map(part_out).collect(),
            still_off: state.still_off(),
            leak: state
                .answer(TopicRole::Leak)
                .filter(|seen| state.says(seen).any(|a| a == Answer::Leak(Leak::Leaks)))
                .map(|seen| seen.stamp.entry),
            level: state
                .answer(TopicRole::LevelSeen)
                .filter(|_| !level::is_set(state))
                .map(|seen| seen.stamp.entry),
        }
    }
}

/// The part in the car stands out of its limits.
fn part_out(part: &Part) -> Option<PartOut> {
    let of_now = part.readings.iter().filter(|read| !read.of_replaced);
    let worst = worst(of_now)?;
    (worst.verdict == ReadingVerdict::OutOfSpec).then(|| PartOut {
        entry: part.entry,
        name: part.name.clone(),
        reading: worst.entry,
    })
}
