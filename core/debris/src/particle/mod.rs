//! One candidate: its exact edge, size, looks and class.

mod class;
#[cfg(test)]
mod drawn;
mod forest;
mod level;
mod looks;
mod mask;
mod measure;
mod outline;
pub(crate) mod shape;

pub(crate) use class::judge;
pub use forest::{Forest, Node};
pub(crate) use looks::{NAMES, Scene, looks_of};
pub(crate) use measure::{Measured, measure};
