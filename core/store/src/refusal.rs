//! Which errors are about the line that was sent, not about this store.

use rusqlite::ErrorCode;

use crate::StoreError;

impl StoreError {
    /// The line itself can't be taken in, now or later; other lines can.
    pub fn is_about_the_line(&self) -> bool {
        match self {
            StoreError::Gap { .. }
            | StoreError::Fork { .. }
            | StoreError::NotItsWriters { .. }
            | StoreError::Entry(_) => true,
            // An id that is taken already, or a number that no column holds.
            StoreError::Sqlite(error) => {
                error.sqlite_error_code() == Some(ErrorCode::ConstraintViolation)
                    || matches!(error, rusqlite::Error::ToSqlConversionFailure(_))
            }
            _ => false,
        }
    }
}
