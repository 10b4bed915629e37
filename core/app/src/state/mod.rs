//! A job as this device knows it: read from the log, folded and judged once, and kept until
//! lines came.

mod fold;
mod load;
mod past;
mod texts;

pub(crate) use fold::Jobs;
pub(crate) use load::{Loaded, load, load_alone};
pub(crate) use past::last_odometer;
