//! The seam below the rules of the log: rows by their keys, and what is done with them whole or
//! not at all. SQLite is its first backend ([`crate::sqlite`]). A backend knows no rule: what a
//! line must be, and who wins, is decided above it.

mod beside;
mod lines;
mod list;

use std::fmt::Debug;
use std::path::Path;

pub(crate) use beside::Beside;
pub(crate) use lines::{KeptLine, LastLine, Lines};
pub(crate) use list::List;

use crate::held::Held;
use crate::sqlite::Copied;
use crate::{StoreError, sqlite};

/// All rows of a store.
pub(crate) trait Rows: Lines + List + Beside {}

/// What is done with rows; what it gives, the caller keeps for itself.
pub(crate) type Work<'a> = &'a mut dyn FnMut(&dyn Rows) -> Result<(), StoreError>;

/// Where rows lie. Blocking, and used by several threads at once.
pub(crate) trait Log: Debug + Send + Sync {
    /// Shows rows as they are at one moment; they wait for nobody who writes. Within
    /// [`Log::write`] of the same thread they are as written so far.
    fn read(&self, what: Work<'_>) -> Result<(), StoreError>;

    /// Does something whole or not at all, one after another; lasting when it returns.
    /// Within another of the same thread it is a part of that, and lasts with it.
    fn write(&self, what: Work<'_>) -> Result<(), StoreError>;

    /// Why only what the program makes for itself can be written, until it ends.
    fn held(&self) -> Option<&Held>;

    /// Takes what was erased out of where it still lies. Not within [`Log::write`].
    fn wipe(&self) -> Result<(), StoreError>;

    /// A copy of all rows as they are at one moment, in a file, read through.
    fn copy(&self, to: &Path) -> Result<Copied, StoreError>;

    /// What can be saved of it, once something of it was found damaged.
    fn saved(&self) -> Result<sqlite::Sqlite, StoreError>;
}
