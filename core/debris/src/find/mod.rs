//! Finding what may be a particle: ground, difference, components.

mod detect;
mod ground;
pub(crate) mod label;
mod search;
mod work;

pub(crate) use detect::{Candidate, threshold};
pub(crate) use ground::Ground;
pub(crate) use search::{Search, search};
