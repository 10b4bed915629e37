//! The facts of a job, and the fold that turns a log into its state.
//!
//! Pure: no I/O, no clock, no randomness. Times and ids are handed in.

pub mod census;
