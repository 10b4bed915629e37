//! Whether a database is as it was written: before it is opened for writing, after it was copied.

use std::fmt;
use std::path::Path;

use rusqlite::Connection;
use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;

use super::Sql;
use crate::rows::Beside;
use crate::{DatabaseFault, StoreError, beside};

/// Up to this size all of it is read at each start; of a larger one what is asked for.
const READ_WHOLE_BYTES: u64 = 8 * 1024 * 1024;

/// Set once a head is kept beside the database, so that one without is noticed.
pub(crate) const HEAD_KEPT: &str = "head_kept";

/// Why a database must not be written to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Doubt {
    /// There is no database, or an empty file, where there was one.
    Gone,
    /// It has fewer lines than it had.
    Behind { had: u64, has: u64 },
    /// The head that it keeps beside it is not there.
    NoHead,
    /// It is not as it was written.
    Broken(String),
}

impl fmt::Display for Doubt {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        let words = match self {
            Doubt::Gone => say!("the-file-is-empty-or-not-there-where"),
            Doubt::Behind { had, has } => {
                say!("it-has-has-lines-of-the-log-and", has = has, had = had)
            }
            Doubt::NoHead => say!("the-file-swarfbook-head-is-not-beside-it"),
            Doubt::Broken(why) => why.clone(),
        };
        to.write_str(&words)
    }
}

/// What speaks against writing to the database in `dir`, as far as is seen without reading
/// all of a large one. `had` was read before the database was opened.
pub(crate) fn doubt(
    db: &Connection,
    dir: &Path,
    had: Option<u64>,
) -> Result<Option<Doubt>, StoreError> {
    let form: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if form == 0 {
        let had_lines = had.is_some_and(|had| had > 0) || has_photos(dir);
        return Ok(had_lines.then_some(Doubt::Gone));
    }
    let has = lines(db)?;
    let kept = Sql(db).setting(HEAD_KEPT)?;
    match had {
        Some(had) if had > has => return Ok(Some(Doubt::Behind { had, has })),
        None if kept.is_some() && beside::read(dir).is_none() => return Ok(Some(Doubt::NoHead)),
        _ => {}
    }
    let size = std::fs::metadata(dir.join("swarfbook.db")).map_or(0, |file| file.len());
    if size > READ_WHOLE_BYTES {
        return Ok(None);
    }
    Ok(fault(db)?.map(Doubt::Broken))
}

/// Whether a photo was ever kept here.
pub(crate) fn has_photos(dir: &Path) -> bool {
    let shelves = std::fs::read_dir(dir.join("photos")).into_iter().flatten();
    shelves
        .flatten()
        .any(|shelf| shelf.file_type().is_ok_and(|kind| kind.is_dir()))
}

/// How many lines there have been: the program deletes none, so that the last one's row says it.
pub(crate) fn lines(db: &Connection) -> Result<u64, StoreError> {
    Ok(db
        .prepare_cached("SELECT COALESCE(MAX(rowid), 0) FROM entry")?
        .query_row([], |row| row.get(0))?)
}

/// Reads all of a database: its structure, its indexes, and each line against its hash.
pub(crate) fn fault(db: &Connection) -> Result<Option<String>, StoreError> {
    match fault_in(db) {
        // The disk does not answer: that says nothing of what is on it.
        Err(
            why @ StoreError::Database {
                fault: DatabaseFault::Disk,
                ..
            },
        ) => Err(why),
        Err(why @ (StoreError::Damaged(_) | StoreError::Database { .. })) => {
            Ok(Some(why.to_string()))
        }
        other => other,
    }
}

fn fault_in(db: &Connection) -> Result<Option<String>, StoreError> {
    let said: String = db.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
    if said != "ok" {
        return Ok(Some(say!("its-structure-is-damaged-said", said = said)));
    }
    let mut query = db.prepare("SELECT device, seq, hash, bytes FROM entry ORDER BY rowid")?;
    let mut rows = query.query([])?;
    while let Some(row) = rows.next()? {
        let (hash, bytes) = (row.get_ref(2)?.as_bytes(), row.get_ref(3)?.as_bytes());
        let (Ok(hash), Ok(bytes)) = (hash, bytes) else {
            return Ok(Some(say!("a-line-of-its-log-cant-be-read")));
        };
        if Sha256Hex::of(bytes).to_string().as_bytes() != hash {
            return Ok(Some(say!(
                "line-row-of-device-row-2-is-not",
                row = row.get::<_, u64>(1)?,
                row_2 = row.get::<_, String>(0)?
            )));
        }
    }
    Ok(None)
}
