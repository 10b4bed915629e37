//! A store that can only be read: its folder is read-only or full, or its database damaged.

use std::fs;
use std::path::Path;

use rusqlite::backup::{Backup, StepResult};
use rusqlite::{Connection, ErrorCode, OpenFlags};
use swarfbook_job::id::DeviceId;
use swarfbook_words::say;
use uuid::Uuid;

use crate::files::Folder;
use crate::open::{forms, own_device};
use crate::private::private_folder;
use crate::sound::{Doubt, doubt, lines};
use crate::{Photos, Store, StoreError, beside, saved};

/// Up to this size the database is read into memory, a larger one into a temporary file.
const IN_MEMORY_BYTES: u64 = 256 * 1024 * 1024;

/// Why a store can only be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// In words, as a sentence.
    pub words: String,
    /// The database is damaged: making room or a right does not help.
    pub damaged: bool,
    /// Lines that the log had and that could not be saved.
    pub lost: u64,
}

impl Store {
    /// A store whose database goes with the program. What is derived is made anew in it; what
    /// somebody writes is refused.
    pub(crate) fn held(db: Connection, dir: &Path, device: DeviceId, why: Held) -> Store {
        Store {
            db,
            dir: dir.to_owned(),
            photos: Photos::of(Folder::at(dir)),
            arrivals: None,
            device,
            head: None,
            held: Some(why),
        }
    }

    /// Why this store can only be read; `None` for one that can be written.
    pub fn read_only(&self) -> Option<&Held> {
        self.held.as_ref()
    }

    pub(crate) fn writable(&self) -> Result<(), StoreError> {
        match &self.held {
            None => Ok(()),
            Some(why) => Err(StoreError::ReadOnly(why.clone())),
        }
    }
}

/// Whether an error is the folder's or the disk's, so that reading may work all the same.
pub(crate) fn is_of_the_folder(why: &StoreError) -> bool {
    use std::io::ErrorKind;
    match why {
        StoreError::Full => true,
        StoreError::File { source, .. } => matches!(
            source.kind(),
            ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied
        ),
        StoreError::Sqlite(why) => matches!(
            why.sqlite_error_code(),
            Some(
                ErrorCode::ReadOnly
                    | ErrorCode::CannotOpen
                    | ErrorCode::PermissionDenied
                    | ErrorCode::SystemIoFailure
            )
        ),
        _ => false,
    }
}

/// Opens the store in `dir` without writing there.
///
/// # Errors
/// `why` where there is no database to read; as SQLite's.
pub(crate) fn open(dir: &Path, why: StoreError) -> Result<Store, StoreError> {
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
    let device = own_device(&db)?;
    let why = Held {
        words: say!(
            "Nothing can be written in {} ({}). It is open to read only, with {} lines of the log.",
            dir.display(),
            why,
            lines(&db)?
        ),
        damaged: false,
        lost: 0,
    };
    Ok(Store::held(db, dir, device, why))
}

/// Whether the device has a name yet.
fn is_begun(db: &Connection) -> Result<bool, StoreError> {
    let form: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    let named = "SELECT EXISTS (SELECT 1 FROM setting WHERE name = 'device')";
    Ok(form > 0 && db.query_row(named, [], |row| row.get(0))?)
}

fn read_into(db: &mut Connection, dir: &Path) -> Result<(), StoreError> {
    let path = dir.join("swarfbook.db");
    let wal = dir.join("swarfbook.db-wal");
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
    if fs::metadata(&wal).map_or(0, |file| file.len()) == 0 {
        // All is in the one file. Without a log beside it SQLite could not open it where it
        // can't make one, unless it is told that nobody changes it.
        let from = Connection::open_with_flags(uri(&path, "?immutable=1"), flags)?;
        return copy(&from, db);
    }
    let plain = Connection::open_with_flags(&path, OpenFlags::SQLITE_OPEN_READ_ONLY);
    if let Ok(from) = plain
        && copy(&from, db).is_ok()
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
    let wrong = || StoreError::file(say!("{} can't be written", aside.display()));
    private_folder(aside).map_err(wrong())?;
    fs::copy(path, aside.join("swarfbook.db")).map_err(wrong())?;
    fs::copy(wal, aside.join("swarfbook.db-wal")).map_err(wrong())?;
    copy(&Connection::open(aside.join("swarfbook.db"))?, db)
}

fn copy(from: &Connection, to: &mut Connection) -> Result<(), StoreError> {
    match Backup::new(from, to)?.step(-1)? {
        StepResult::Done => Ok(()),
        _ => Err(StoreError::Busy),
    }
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
const NOTE: &str = "swarfbook.damaged";

/// What an earlier run found out.
pub(crate) fn noted(dir: &Path) -> Option<Doubt> {
    fs::read_to_string(dir.join(NOTE)).ok().map(Doubt::Broken)
}

impl Store {
    /// The same store as what can be saved of it, once something of it was found damaged.
    /// The next start finds a note of that.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] where nothing can be saved.
    pub fn saved(&self) -> Result<Store, StoreError> {
        use rusqlite::config::DbConfig;
        // The log beside it must not be thrown away with what is whole in it.
        let kept = DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE;
        self.db.set_db_config(kept, true)?;
        let why = crate::sound::fault(&self.db)?
            .unwrap_or_else(|| say!("it gave a line that is not as it was written"));
        // A folder that can't be written finds it out again.
        let _ = fs::write(self.dir.join(NOTE), &why);
        saved::open(&self.dir, &Doubt::Broken(why))
    }
}
