//! The languages that the book speaks.

mod language;

pub use language::Language;
