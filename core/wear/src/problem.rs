//! What can't be worked with, said so that it can be put right.

use swarfbook_words::{say, term};

/// Why no score can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WearProblem {
    /// Neither a photo nor an observation: an unread pan is not a clean pan.
    #[error("{}", term!("nothing-of-the-pan-was-looked-at-yet"))]
    NothingLookedAt,
    /// A value that can't be.
    #[error("{}", say!("what-cant-be-value-ask", what = what, value = value, ask = ask))]
    BadValue {
        /// Which value, in words.
        what: String,
        /// The value as given.
        value: String,
        /// What to do.
        ask: &'static str,
    },
    /// An advice overruled without a reason.
    #[error("{}", term!("say-why-the-advice-is-overruled-the-reason"))]
    OverruleWithoutReason,
    /// A hazard table that can't be used.
    #[error("{}", say!("the-hazard-table-cant-be-used-value", value = .0))]
    Table(String),
}
