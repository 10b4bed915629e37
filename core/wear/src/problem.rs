//! What can't be worked with, said so that it can be put right.

use swarfbook_words::{say, term};

/// Why no score can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum WearProblem {
    /// Neither a photo nor an observation: an unread pan is not a clean pan.
    #[error("{}", term!("Nothing of the pan was looked at yet. Take a photo of the patch or the magnet, or enter what you see."))]
    NothingLookedAt,
    /// A value that can't be.
    #[error("{}", say!("{} can't be {}. {}", what, value, ask))]
    BadValue {
        /// Which value, in words.
        what: String,
        /// The value as given.
        value: String,
        /// What to do.
        ask: &'static str,
    },
    /// An advice overruled without a reason.
    #[error("{}", term!("Say why the advice is overruled; the reason is kept with it."))]
    OverruleWithoutReason,
    /// A hazard table that can't be used.
    #[error("{}", say!("The hazard table can't be used: {}", .0))]
    Table(String),
}
