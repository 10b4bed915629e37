//! The languages that the book speaks, and the sentences of the core in them.
//!
//! A sentence is written in English where it is said, `say!("{} of {} off", n, all)`,
//! and its English is its key in the catalogue of each other language
//! (`catalogue/de.json`). Which language is spoken is decided at the door, once a
//! call ([`in_language`]): the device's, or the customer's while a report is made.
//! Nothing but words follows from it. What is written in the log are facts, and
//! words that were written down stay as they were written.

mod catalogue;
mod language;
pub mod rounding;
mod say;

pub use catalogue::{catalogue, places};
pub use language::{Language, decided, in_language, speaking};
pub use say::{count, decimals, fixed, retold, say, translated, within};
