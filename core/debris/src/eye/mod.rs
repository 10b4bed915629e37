//! The finder: a small network that sees some 40 mm around each place and tells where pieces are, what parts
//! touching ones, and of which class they look.

mod finder;
mod novelty;
mod parts;
mod resample;

pub use finder::Finder;
pub(crate) use finder::{Proposal, Sighting, Told, View};
