//! What the shop asks for one thing.

use super::state::Stamp;
use crate::fact::Cost;

/// An amount that was given.
#[derive(Debug, Clone, PartialEq)]
pub struct CostState {
    /// Who and when.
    pub stamp: Stamp,
    /// For what, and how much.
    pub cost: Cost,
}
