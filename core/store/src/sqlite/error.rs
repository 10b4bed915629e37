//! SQLite's errors as the store's own: nobody above knows SQLite.

use std::path::PathBuf;

use rusqlite::{Error, ErrorCode};

use crate::{DatabaseFault, StoreError};

impl From<Error> for StoreError {
    fn from(error: Error) -> Self {
        let fault = match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => return StoreError::Full,
            Some(ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt) => {
                return StoreError::Damaged(PathBuf::from("swarfbook.db"));
            }
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => return StoreError::Busy,
            Some(ErrorCode::ConstraintViolation) => DatabaseFault::Row,
            Some(ErrorCode::SystemIoFailure) => DatabaseFault::Disk,
            Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                DatabaseFault::Folder
            }
            _ if matches!(error, Error::ToSqlConversionFailure(_)) => DatabaseFault::Row,
            _ => DatabaseFault::Other,
        };
        StoreError::Database {
            fault,
            words: error.to_string(),
        }
    }
}
