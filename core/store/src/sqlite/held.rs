//! Opening a database whose folder is read-only or full.

use std::fs;
use std::path::Path;

use rusqlite::{Connection, OpenFlags};
use swarfbook_words::say;
use uuid::Uuid;

use super::copy::copy_into;
use super::form::forms;
use super::sound::{Doubt, doubt, lines};
use super::{Sql, Sqlite, saved};
use crate::held::Held;
use crate::private::private_folder;
use crate::rows::Beside;
use crate::{DatabaseFault, StoreError, beside, log};

/// Up to this size the database is read into memory, a larger one into a temporary file.
const IN_MEMORY_BYTES: u64 = 256 * 1024 * 1024;

/// Whether an error is the folder's or the disk's, so that reading may work all the same.
pub(crate) fn is_of_the_folder(why: &StoreError) -> bool {
    use std::io::ErrorKind;
    match why {
        StoreError::Full => true,
        StoreError::File { source, .. } => matches!(
            source.kind(),
            ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied
        ),
        StoreError::Database { fault, .. } => {
            matches!(fault, DatabaseFault::Disk | DatabaseFault::Folder)
        }
        _ => false,
    }
}

/// Opens the store in `dir` without writing there.
///
/// # Errors
/// `why` where there is no database to read; as SQLite's.
pub(crate) fn open(dir: &Path, why: StoreError) -> Result<Sqlite, StoreError> {
    let had = beside::read(dir);
    let path = dir.join("swarfbook.db");
    let Ok(bytes @ 1..) = fs::metadata(&path).map(|file| file.len()) else {
        return Err(why);
    };
    let mut db = Connection::open(if bytes > IN_MEMORY_BYTES {
        ""
    } else {
        ":memory:"
    })?;
    read_into(&mut db, dir)?;
    if !is_begun(&db)? && had.is_none_or(|had| had == 0) {
        // No start ever came through: a shop of which nothing lasts must not begin.
        return Err(why);
    }
    if let Some(doubt) = doubt(&db, dir, had)? {
        return saved::open(dir, &doubt);
    }
    forms(&mut db)?;
    log::name_device(&Sql(&db))?;
    let why = Held {
        words: say!(
            "nothing-can-be-written-in-dir-why-it",
            dir = dir.display(),
            why = why,
            lines = lines(&db)?
        ),
        damaged: false,
        lost: 0,
    };
    Ok(Sqlite::held(db, dir, why))
}

/// Whether the device has a name yet.
fn is_begun(db: &Connection) -> Result<bool, StoreError> {
    let form: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    Ok(form > 0 && Sql(db).setting(log::DEVICE)?.is_some())
}

fn read_into(db: &mut Connection, dir: &Path) -> Result<(), StoreError> {
    let path = dir.join("swarfbook.db");
    let wal = dir.join("swarfbook.db-wal");
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    if fs::metadata(&wal).map_or(0, |file| file.len()) == 0 {
        // All is in the one file. Without a log beside it SQLite could not open it where it
        // can't make one, unless it is told that nobody changes it.
        let from = Connection::open_with_flags(uri(&path, "?immutable=1"), flags)?;
        return copy_into(&from, db);
    }
    let plain = Connection::open_with_flags(&path, OpenFlags::SQLITE_OPEN_READ_ONLY);
    if let Ok(from) = plain
        && copy_into(&from, db).is_ok()
    {
        return Ok(());
    }
    let aside = std::env::temp_dir().join(format!("swarfbook-{}", Uuid::new_v4()));
    let copied = copy_aside(&aside, &path, &wal, db);
    let _ = fs::remove_dir_all(&aside);
    copied
}

fn copy_aside(
    aside: &Path,
    path: &Path,
    wal: &Path,
    db: &mut Connection,
) -> Result<(), StoreError> {
    let wrong = || StoreError::file(say!("to-cant-be-written", to = aside.display()));
    private_folder(aside).map_err(wrong())?;
    fs::copy(path, aside.join("swarfbook.db")).map_err(wrong())?;
    fs::copy(wal, aside.join("swarfbook.db-wal")).map_err(wrong())?;
    copy_into(&Connection::open(aside.join("swarfbook.db"))?, db)
}

/// A path as SQLite takes it in an address, with what is asked of it.
fn uri(path: &Path, asked: &str) -> String {
    let path = path.display().to_string();
    let path = path
        .replace('%', "%25")
        .replace('?', "%3f")
        .replace('#', "%23");
    format!("file:{path}{asked}")
}

/// What was found out about a database while it was in use, for the next start.
pub(super) const NOTE: &str = "swarfbook.damaged";

/// What an earlier run found out.
pub(crate) fn noted(dir: &Path) -> Option<Doubt> {
    fs::read_to_string(dir.join(NOTE)).ok().map(Doubt::Broken)
}
