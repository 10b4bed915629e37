//! The facts of a job, and the fold that turns a log into its state.
//!
//! Pure: no I/O, no clock, no randomness. Times and ids are handed in.
//!
//! - [`fact`]: what can be written down, one variant a kind of line.
//! - [`entry`]: a fact with who, when and in which order, chained by hash.
//! - [`shown`]: how much of a line's text counts.
//! - [`fold`]: entries in any order of arrival to one [`fold::JobState`].
//! - [`procedure`]: the steps of the work, a data file that a shop can write.
//! - [`census`]: what a photo says about debris.
//! - [`class_table`]: what each class of debris is called, how it is drawn, what it means.
//! - [`unit`]: quantities, and the units that they are kept, typed and shown in.
//! - [`garwood`], [`wilson`], [`words`]: the interval of a count, that of a share, and how
//!   numbers are written, which every crate above must say alike.

pub mod census;
pub mod class_table;
pub mod clock;
pub mod entry;
pub mod fact;
pub mod fold;
pub mod garwood;
pub mod id;
pub mod procedure;
pub mod shown;
pub mod unit;
pub mod wilson;
pub mod words;
