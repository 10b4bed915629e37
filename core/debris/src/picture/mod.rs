//! Bytes to an upright picture, and back to bytes without metadata.

mod copy;
mod decode;
mod orient;
mod small;

pub use copy::copy_without_metadata;
pub use decode::{Unreadable, Upright, decode};
pub(crate) use small::{Small, reduce};
