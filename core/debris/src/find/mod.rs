//! Finding what may be a particle: ground, difference, components.

mod detect;
mod ground;
pub(crate) mod label;
mod work;

pub(crate) use detect::{Candidate, candidates};
pub(crate) use ground::{Ground, ground_of};
pub(crate) use work::{Work, work_of};
