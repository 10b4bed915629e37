//! Reports that were made.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{CostOf, Money, ReportForm};
use swarfbook_job::id::EntryId;
use ts_rs::TS;

/// Whether a report is still to be relied on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum ReportStanding {
    /// It stands.
    Stands,
    /// A later one of the same job says more.
    Superseded {
        /// When that was made, RFC 3339.
        at: String,
    },
    /// The shop withdrew it.
    Withdrawn {
        /// When, RFC 3339.
        at: String,
        /// Why, as the customer is told; empty where its making was taken back.
        reason: String,
    },
}

/// One report that was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ReportView {
    /// The line that made it.
    pub entry: EntryId,
    /// When, RFC 3339.
    pub made: String,
    /// As what; `None` in early lines.
    pub form: Option<ReportForm>,
    /// A link to it is open.
    pub shared: bool,
    /// Whether it stands.
    pub standing: ReportStanding,
}

/// A text of the log that holds what a copy is to leave out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct NamedText {
    /// By which it can be looked at and taken back.
    pub entry: EntryId,
    /// The line in words.
    pub words: String,
    /// What it holds: the name, a word of it, the plate.
    pub holds: String,
    /// It holds a word of the name only, which may be an ordinary word there: it stays
    /// where the copy keeps such texts.
    pub can_stay: bool,
}

/// Something that an amount can be given for, with what was given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CostView {
    /// For what.
    pub of: CostOf,
    /// That, in the report's words.
    pub what: String,
    /// How much; `None` where none is given.
    pub amount: Option<Money>,
    /// What the shop adds to it; may be empty.
    pub text: String,
}
