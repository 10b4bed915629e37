//! One candidate: its exact edge, size, looks and class.

mod class;
#[cfg(test)]
mod drawn;
mod field;
mod forest;
mod looks;
mod mask;
mod measure;
mod outline;
mod pixel;
pub(crate) mod shape;

pub(crate) use class::judge;
pub use forest::{Forest, Node};
pub(crate) use looks::{NAMES, Scene, looks_of};
pub(crate) use measure::{Measured, Photo, measure, pixel_looks};
pub(crate) use pixel::COUNT as PIXEL_LOOKS;
pub use pixel::{PixelForest, PixelNode};
