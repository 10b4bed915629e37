//! Small convolutional networks: read from a file, run row by row over a picture of any size, with the
//! same bits on every machine.

mod format;
mod half;
mod kernel;
mod layer;
mod run;
#[cfg(test)]
mod tests;

pub(crate) use format::NoveltyForm;
pub use format::Unusable;
pub(crate) use layer::Network;
