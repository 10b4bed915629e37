//! Opening a database: its folder, its form, and whether it is as it was left.

use std::fs;
use std::path::Path;

use rusqlite::Connection;
use rusqlite::config::DbConfig;
use swarfbook_words::say;

use super::form::{MIGRATIONS, WAIT, configure, forms};
use super::held::{self, is_of_the_folder};
use super::lent::Pool;
use super::sound::{Doubt, HEAD_KEPT, doubt, has_photos, lines};
use super::{Sql, Sqlite, saved};
use crate::beside::{self, HeadFile};
use crate::files::{Folder, sync_name};
use crate::private::tighten;
use crate::rows::Beside;
use crate::{StoreError, log};

/// Why a database can't be written to.
enum Unopened {
    /// It is not as it was.
    Doubt(Doubt),
    /// It can't be used.
    Failed(StoreError),
}

impl<E: Into<StoreError>> From<E> for Unopened {
    fn from(why: E) -> Unopened {
        Unopened::Failed(why.into())
    }
}

/// Opens the database in `dir`, making it when it is not there; to read only where it must be.
///
/// # Errors
/// As [`crate::Store::open`].
pub(crate) fn open(dir: &Path) -> Result<Sqlite, StoreError> {
    match open_to_write(dir) {
        Ok(log) => Ok(log),
        Err(Unopened::Doubt(doubt)) => saved::open(dir, &doubt),
        Err(Unopened::Failed(why)) if is_of_the_folder(&why) => {
            held::open(dir, why).or_else(|why| open_broken(dir, why))
        }
        Err(Unopened::Failed(why)) => open_broken(dir, why),
    }
}

/// What SQLite can't read, as far as it can be saved; `why` where that is not it.
fn open_broken(dir: &Path, why: StoreError) -> Result<Sqlite, StoreError> {
    match why {
        StoreError::Damaged(_) | StoreError::Database { .. } => {
            let broken = Doubt::Broken(say!("sqlite-cant-read-it"));
            saved::open(dir, &broken).map_err(|unsaved| match why {
                StoreError::Damaged(_) => unsaved,
                why => why,
            })
        }
        other => Err(other),
    }
}

fn open_to_write(dir: &Path) -> Result<Sqlite, Unopened> {
    let path = dir.join("swarfbook.db");
    // Before the database: others may write to it meanwhile.
    let had = beside::read(dir);
    let empty = fs::metadata(&path).map_or(true, |file| file.len() == 0);
    if empty && (had.is_some_and(|had| had > 0) || has_photos(dir)) {
        return Err(Unopened::Doubt(Doubt::Gone));
    }
    if let Some(doubt) = held::noted(dir) {
        return Err(Unopened::Doubt(doubt));
    }
    let folder = Folder::make(dir).map_err(StoreError::file(say!(
        "the-folder-dir-cant-be-made",
        dir = dir.display()
    )))?;
    let mut db = Connection::open(&path)?;
    // Closing it would else throw away a write-ahead log of which SQLite can read no more
    // than the beginning.
    let keep_log = DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE;
    db.set_db_config(keep_log, true)?;
    close_to_others(dir);
    db.busy_timeout(WAIT)?;
    let found: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found <= MIGRATIONS.len() as i64
        && let Some(doubt) = doubt(&db, dir, had)?
    {
        return Err(Unopened::Doubt(doubt));
    }
    configure(&db)?;
    forms(&mut db)?;
    log::name_device(&Sql(&db))?;
    // SQLite passes over it where a folder can't be synced.
    let head = HeadFile::open(dir, lines(&db)?).and_then(|head| sync_name(dir).map(|()| head));
    let head = head.map_err(StoreError::file(say!(
        "to-cant-be-written",
        to = dir.display()
    )))?;
    if Sql(&db).set_first(HEAD_KEPT, "true")? {
        // Into the database itself, so that it says so also where it is copied alone.
        db.query_row("PRAGMA wal_checkpoint(FULL)", [], |_| Ok(()))?;
    }
    db.set_db_config(keep_log, false)?;
    folder.sweep();
    Ok(Sqlite {
        pool: Pool::of_file(db, path),
        dir: dir.to_owned(),
        head: Some(head),
        held: None,
    })
}

/// What an earlier version left open, and the database, which SQLite makes for all to read
/// (its WAL then has the same rights). A folder that somebody else made may hold more than
/// a store, so that it stays as it is.
fn close_to_others(dir: &Path) {
    for name in ["photos", "copies"] {
        tighten(&dir.join(name), 0o700);
    }
    for name in ["swarfbook.db", "swarfbook.db-wal", "swarfbook.db-shm"] {
        tighten(&dir.join(name), 0o600);
    }
}
