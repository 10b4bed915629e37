//! One candidate: its exact edge, size, looks and class.

mod boosted;
mod class;
#[cfg(test)]
mod drawn;
mod field;
mod length;
mod looks;
mod mask;
mod measure;
pub(crate) mod outline;
mod pixels;
pub(crate) mod shape;
mod trees;

pub use boosted::{Boosted, adding};
pub use class::{OUTCOMES, PieceTrees};
pub(crate) use class::{judge, leave_doubtful};
pub(crate) use length::length_of;
pub use length::{LengthForest, length_leaf};
pub(crate) use looks::{NAMES, OWN, Scene, looks_of};
pub use measure::Sights;
pub(crate) use measure::{Measured, Photo, measure, pixel_looks};
pub use pixels::PixelTrees;
pub use trees::{Node, Trees};
