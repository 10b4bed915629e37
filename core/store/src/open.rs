//! Opening a store: the folder, the migrations, the device's own name.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::time::Duration;

use rusqlite::config::DbConfig;
use rusqlite::{Connection, TransactionBehavior, params};
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;
use uuid::Uuid;

use crate::beside::{self, HeadFile};
use crate::files::{Folder, sync_name};
use crate::held::{self, Held, is_of_the_folder};
use crate::private::tighten;
use crate::sound::{Doubt, HEAD_KEPT, doubt, has_photos, lines};
use crate::{Blobs, Photos, StoreError, saved};

/// Each form of the database after the one before. Never changed once landed.
const MIGRATIONS: [&str; 4] = [
    include_str!("migrations/0001.sql"),
    include_str!("migrations/0002.sql"),
    include_str!("migrations/0003.sql"),
    include_str!("migrations/0004.sql"),
];

/// How long to wait for another program on the same store.
const WAIT: Duration = Duration::from_secs(5);
/// How long between two askings.
const PAUSE: Duration = Duration::from_millis(20);

/// A folder with the log and the photos.
#[derive(Debug)]
pub struct Store {
    pub(crate) db: Connection,
    /// The folder of the database.
    pub(crate) dir: PathBuf,
    pub(crate) photos: Photos,
    pub(crate) arrivals: Option<Sender<Sha256Hex>>,
    pub(crate) device: DeviceId,
    /// How far the log has come, beside it.
    pub(crate) head: Option<HeadFile>,
    /// Why it can only be read.
    pub(crate) held: Option<Held>,
}

/// Why a store can't be written to.
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

impl Store {
    /// Opens the store in `dir`, making it when it is not there. One whose folder can't be
    /// written, or whose database is not as it was left, is opened to read only, with what can
    /// be saved: [`Store::read_only`] then says why.
    ///
    /// # Errors
    /// [`StoreError::Gone`] when a log was there and is not, [`StoreError::Damaged`] when
    /// nothing can be saved, [`StoreError::Newer`], [`StoreError::Busy`],
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn open(dir: &Path) -> Result<Store, StoreError> {
        match Store::open_to_write(dir) {
            Ok(store) => Ok(store),
            Err(Unopened::Doubt(doubt)) => saved::open(dir, &doubt),
            Err(Unopened::Failed(why)) if is_of_the_folder(&why) => {
                held::open(dir, why).or_else(|why| Store::open_broken(dir, why))
            }
            Err(Unopened::Failed(why)) => Store::open_broken(dir, why),
        }
    }

    /// What SQLite can't read, as far as it can be saved; `why` where that is not it.
    fn open_broken(dir: &Path, why: StoreError) -> Result<Store, StoreError> {
        match why {
            StoreError::Damaged(_) | StoreError::Sqlite(_) => {
                let broken = Doubt::Broken(say!("SQLite can't read it"));
                saved::open(dir, &broken).map_err(|_| why)
            }
            other => Err(other),
        }
    }

    fn open_to_write(dir: &Path) -> Result<Store, Unopened> {
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
            "the folder {} can't be made",
            dir.display()
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
        let device = own_device(&db)?;
        // SQLite passes over it where a folder can't be synced.
        let head = HeadFile::open(dir, lines(&db)?).and_then(|head| sync_name(dir).map(|()| head));
        let head = head.map_err(StoreError::file(say!("{} can't be written", dir.display())))?;
        let first = db.execute(
            "INSERT OR IGNORE INTO setting (name, value) VALUES (?1, 'true')",
            params![HEAD_KEPT],
        )?;
        if first > 0 {
            // Into the database itself, so that it says so also where it is copied alone.
            db.query_row("PRAGMA wal_checkpoint(FULL)", [], |_| Ok(()))?;
        }
        db.set_db_config(keep_log, false)?;
        let store = Store {
            db,
            dir: dir.to_owned(),
            photos: Photos::of(folder.clone()),
            arrivals: None,
            device,
            head: Some(head),
            held: None,
        };
        folder.sweep();
        Ok(store)
    }

    /// Says beside the database how far the log has come, after a commit.
    pub(crate) fn say_head(&self) {
        if let Some(head) = &self.head
            && let Ok(lines) = lines(&self.db)
        {
            head.say(lines);
        }
    }

    /// This device's name in the log.
    pub fn device(&self) -> DeviceId {
        self.device
    }

    /// The same store with its photos kept elsewhere than in its folder.
    #[must_use]
    pub fn with_blobs(self, blobs: Arc<dyn Blobs>) -> Store {
        Store {
            photos: Photos { blobs },
            ..self
        }
    }

    /// From now on, photos that come in whole from another store are told there.
    pub fn tell_arrivals(&mut self, to: Sender<Sha256Hex>) {
        self.arrivals = Some(to);
    }

    pub(crate) fn arrived_whole(&self, photo: Sha256Hex) {
        if let Some(to) = &self.arrivals {
            // Whoever wanted to know may be gone; the photo is here all the same.
            let _ = to.send(photo);
        }
    }

    /// Bytes that can still be written where the store lies.
    ///
    /// # Errors
    /// [`StoreError::File`].
    pub fn free_bytes(&self) -> Result<u64, StoreError> {
        self.photos.blobs.free_bytes()
    }
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

fn configure(db: &Connection) -> Result<(), StoreError> {
    // FULL: the last entry must survive a power cut, not only a crash.
    write_ahead(db)?;
    db.pragma_update(None, "synchronous", "full")?;
    db.pragma_update(None, "foreign_keys", true)?;
    db.pragma_update(None, "temp_store", "memory")?;
    Ok(())
}

/// The switch does not wait for another program that is making it just now, as
/// all else does, so it is asked again for as long.
fn write_ahead(db: &Connection) -> Result<(), StoreError> {
    let mut tries = WAIT.as_millis() / PAUSE.as_millis();
    loop {
        match db
            .pragma_update(None, "journal_mode", "wal")
            .map_err(StoreError::from)
        {
            Err(StoreError::Busy) if tries > 0 => {
                tries -= 1;
                std::thread::sleep(PAUSE);
            }
            done => return done,
        }
    }
}

/// Brings a database to the newest form.
pub(crate) fn forms(db: &mut Connection) -> Result<(), StoreError> {
    let known = MIGRATIONS.len() as i64;
    let found: i64 = db.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found == known {
        return Ok(());
    }
    // Immediate, and the form is read inside: of two programs that open a new
    // store at once, the second must find it made.
    let tx = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let found: i64 = tx.pragma_query_value(None, "user_version", |row| row.get(0))?;
    if found > known {
        return Err(StoreError::Newer { found, known });
    }
    for sql in MIGRATIONS.iter().skip(found.max(0) as usize) {
        tx.execute_batch(sql)?;
    }
    tx.pragma_update(None, "user_version", known)?;
    tx.commit()?;
    Ok(())
}

pub(crate) fn own_device(db: &Connection) -> Result<DeviceId, StoreError> {
    // The first to write names the device; whoever comes second reads that.
    db.execute(
        "INSERT OR IGNORE INTO setting (name, value) VALUES ('device', ?1)",
        params![Uuid::new_v4().to_string()],
    )?;
    let kept: String = db.query_row(
        "SELECT value FROM setting WHERE name = 'device'",
        [],
        |row| row.get(0),
    )?;
    kept.parse()
        .map_err(|_| StoreError::Damaged(PathBuf::from("swarfbook.db")))
}
