//! Which errors are about the line that was sent, not about this store.

use crate::{DatabaseFault, StoreError};

impl StoreError {
    /// The line itself can't be taken in, now or later; other lines can.
    pub fn is_about_the_line(&self) -> bool {
        match self {
            StoreError::Gap { .. }
            | StoreError::Fork { .. }
            | StoreError::NotItsWriters { .. }
            | StoreError::Entry(_) => true,
            StoreError::Database { fault, .. } => *fault == DatabaseFault::Row,
            _ => false,
        }
    }
}
