//! What the log means: the pure crates asked about the state of a job.

pub(crate) mod corrected;
pub(crate) mod explain;
pub(crate) mod fluid;
pub(crate) mod reading;
pub(crate) mod wear;
