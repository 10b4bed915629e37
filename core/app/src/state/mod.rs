//! A job as this device knows it: read from the log, folded and judged once, and kept until
//! lines came; and what the device itself keeps beside the log.

mod app;
pub(crate) mod codes;
pub(crate) mod copies;
mod fold;
pub(crate) mod hand;
pub(crate) mod last;
mod load;
mod past;
pub(crate) mod procedures;
pub(crate) mod settings;
mod texts;
mod undo;

pub use app::App;
pub(crate) use fold::Jobs;
pub(crate) use load::{Loaded, load, load_alone};
pub(crate) use past::last_odometer;
pub(crate) use undo::undoable;
