//! The finder: a small network that sees some 40 mm around each place and tells where pieces are, what parts
//! touching ones, and of which class they look.

mod around;
mod finder;
mod look;
mod novelty;
mod parts;
mod resample;
mod sighting;

pub(crate) use around::FIGURES;
pub use finder::Finder;
pub(crate) use look::View;
pub(crate) use sighting::{Proposal, Sighting, Told};
