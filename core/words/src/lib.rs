//! The languages that the book speaks, and the sentences in them.
//!
//! Every sentence is a message of Project Fluent in a folder a language
//! (`en/*.ftl`), which core, report, screens, the hub's pages and the checking page
//! share. It is said by its id, `say!("n-of-all-off", n = n, all = all)`; an id that
//! is not there, or other values than it shows, do not compile. Which language is
//! spoken is decided at the door, once a call ([`in_language`]): the device's, or the
//! customer's while a report is made. Nothing but words follows from it. What is
//! written in the log are facts; a sentence that was written down in English is
//! found again by [`kept`].

mod kept;
mod language;
mod message;
mod number;
pub mod rounding;
mod say;
mod texts;

pub use kept::{kept, shipped};
pub use language::{Language, decided, in_language, speaking};
pub use message::{known, shows};
pub use number::{decimals, fixed, labelled, within};
pub use say::{say, term};
pub use texts::sentences;
