//! Bytes to an upright picture, and back to bytes without metadata.

mod copy;
mod crop;
mod decode;
mod orient;
mod small;

pub use copy::{copy_within, copy_without_metadata};
pub use crop::crop_png;
pub use decode::{Unreadable, Upright, decode, jpeg_size_px};
pub(crate) use small::{Small, reduce, sum_rows};
