//! What must hold for every job, a file each, by the numbers of the issue that asked for them.

mod calm;
mod classes;
mod decision;
mod kept;
mod lines;
mod marks;
mod names;
mod numbers;
mod standing;
mod ticks;

pub use standing::step;

use super::Found;
use super::shop::Shop;
use super::told::Told;

/// Every job can be shown and reported.
pub const TOLD: &str = "0 told";
/// Nothing calm against grave evidence.
pub const CALM: &str = "1 calm";
/// Each line is told or counted as left out; nothing that has a line is called not done.
pub const LINES: &str = "2 lines";
/// A number is the same wherever it stands.
pub const NUMBERS: &str = "3 numbers";
/// A line keeps its name, time and unit, a job its procedure.
pub const KEPT: &str = "4 kept";
/// A copy without names differs in the people's fields alone.
pub const NAMES: &str = "5 names";
/// A part stands as its worst newest reading says, until it is replaced.
pub const STANDING: &str = "6 standing";
/// A step is ticked by what was done for it.
pub const TICKS: &str = "7 ticks";
/// A decision that the evidence overtook is asked again.
pub const DECISION: &str = "8 decision";
/// A class is called the same everywhere.
pub const CLASSES: &str = "9 classes";
/// Marks stand as they are written.
pub const MARKS: &str = "10 marks";

/// What is wrong at the end of a job.
pub fn all(shop: &Shop, told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    found.extend(calm::check(told));
    found.extend(lines::check(shop, told));
    found.extend(numbers::check(told));
    found.extend(kept::check(shop, told));
    found.extend(names::check(told));
    found.extend(standing::check(told));
    found.extend(ticks::check(told));
    found.extend(decision::check(told));
    found.extend(classes::check(told));
    found.extend(marks::check(told));
    found
}
