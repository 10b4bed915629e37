//! The ground, the difference from it, and connected components.

mod detect;
mod ground;
pub(crate) mod label;
mod quad;
mod search;
mod work;

pub(crate) use detect::threshold;
pub(crate) use quad::row_spans;
pub(crate) use search::{Search, search};
