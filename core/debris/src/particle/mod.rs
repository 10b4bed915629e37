//! One candidate: its exact edge, size, looks and class.

mod class;
mod measure;
mod outline;
pub(crate) mod shape;

pub(crate) use class::{Looks, judge};
pub(crate) use measure::{Measured, measure};
