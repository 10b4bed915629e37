//! One of what there is, as an action counts it.

use swarfbook_app::view::{JobView, WantView};
use swarfbook_job::fact::ReadingKind;

/// Codes that may be set: of the standard and of makers, of solenoids, sensors and wear.
pub const CODES: [&str; 6] = ["P0741", "P0750", "P0711", "P0720", "P0894", "P1740"];

/// One of what there is, counted around.
pub fn pick<T>(all: &[T], at: u8) -> Option<&T> {
    all.get(usize::from(at).checked_rem(all.len())?)
}

/// Those whose bits are set.
pub fn some<T>(all: &[T], bits: u8) -> impl Iterator<Item = &T> {
    let set = move |at: usize| bits >> (at % 8) & 1 == 1;
    all.iter()
        .enumerate()
        .filter(move |(at, _)| set(*at))
        .map(|(_, one)| one)
}

/// Every wish with its step.
pub fn wants(view: &JobView) -> Vec<(String, WantView)> {
    view.stages
        .iter()
        .flat_map(|stage| &stage.steps)
        .flat_map(|step| {
            step.wants
                .iter()
                .map(|want| (step.id.clone(), want.clone()))
        })
        .collect()
}

pub fn quantity(at: u8) -> ReadingKind {
    ReadingKind::ALL[usize::from(at) % ReadingKind::ALL.len()]
}
