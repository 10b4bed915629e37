//! What the customer said, and the links that are open.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::AnswerChoice;
use swarfbook_job::id::EntryId;
use ts_rs::TS;

/// One answer of the customer's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct AnswerView {
    /// The thing advised, in the words that they saw.
    pub item: String,
    /// What they chose.
    pub choice: AnswerChoice,
    /// The same in words, with what they asked or added.
    pub words: String,
    /// Their name; empty when erased.
    pub by: String,
    /// When, RFC 3339.
    pub at: String,
}

/// A link to the report that is open.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct LinkView {
    /// The line that made it; taking that back closes it.
    pub entry: EntryId,
    /// When it was made, RFC 3339.
    pub made: String,
    /// The day until which it is open, in words.
    pub expires: String,
}
