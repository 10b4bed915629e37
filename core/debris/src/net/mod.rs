//! Small convolutional networks: read from a file, run row by row over a picture of any size, in whole numbers
//! and so with the same result on every machine.

mod format;
mod kernel;
mod layer;
mod run;
#[cfg(test)]
mod tests;

pub use format::Unusable;
pub(crate) use format::{NoveltyForm, Output};
pub(crate) use layer::{MOST, Network};
