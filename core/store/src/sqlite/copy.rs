//! A copy of a database in a file of its own.

use std::fs;
use std::path::Path;

use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, OpenFlags};
use swarfbook_words::say;

use super::Sql;
use super::form::forms;
use super::sound::{fault, lines};
use crate::StoreError;
use crate::private::private_file;

/// A database as it was at one moment, in one file, read through.
#[derive(Debug)]
pub(crate) struct Copied(Connection);

impl Copied {
    pub(super) fn of(from: &Connection, half: &Path) -> Result<Copied, StoreError> {
        // What an attempt that was cut short left must not be rolled into this one.
        let _ = fs::remove_file(half.with_extension("half-journal"));
        let unwritten = || StoreError::file(say!("to-cant-be-written", to = half.display()));
        private_file(half).map_err(unwritten())?;
        let mut copy = Connection::open(half)?;
        copy_into(from, &mut copy)?;
        copy.pragma_update(None, "journal_mode", "delete")?;
        copy.pragma_update(None, "synchronous", "full")?;
        if let Some(why) = fault(&copy)? {
            return Err(match fault(from)? {
                Some(_) => StoreError::Damaged(from.path().map(Into::into).unwrap_or_default()),
                None => unwritten()(std::io::Error::other(why)),
            });
        }
        Ok(Copied(copy))
    }

    /// What is in it.
    pub(crate) fn rows(&self) -> Sql<'_> {
        Sql(&self.0)
    }

    /// How many lines the log has had.
    pub(crate) fn had(&self) -> Result<u64, StoreError> {
        lines(&self.0)
    }

    /// Ends the work with it, so that all is in the file.
    pub(crate) fn close(self) -> Result<(), StoreError> {
        self.0.close().map_err(|(_, why)| StoreError::from(why))
    }
}

/// Copies all of a database, in one step: with a write-ahead log nobody has to wait for it, and
/// what is written meanwhile does not make it begin again.
pub(super) fn copy_into(from: &Connection, to: &mut Connection) -> Result<(), StoreError> {
    match Backup::new(from, to)?.step(-1)? {
        StepResult::Done => Ok(()),
        _ => Err(StoreError::Busy),
    }
}

/// A copy of a database that nobody uses, in the newest form.
pub(crate) fn copied_file(from: &Path, half: &Path) -> Result<Copied, StoreError> {
    let from = Connection::open_with_flags(from, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
    let mut copy = Copied::of(&from, half)?;
    forms(&mut copy.0)?;
    Ok(copy)
}
