//! Opening a store: the folder, the migrations, the device's own name.

use std::path::{Path, PathBuf};
use std::sync::mpsc::Sender;
use std::time::Duration;

use rusqlite::{Connection, TransactionBehavior, params};
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;
use uuid::Uuid;

use crate::private::{private_folder, tighten};
use crate::{Shelves, StoreError};

/// Each form of the database after the one before. Never changed once landed.
const MIGRATIONS: [&str; 3] = [
    include_str!("migrations/0001.sql"),
    include_str!("migrations/0002.sql"),
    include_str!("migrations/0003.sql"),
];

/// How long to wait for another program on the same store.
const WAIT: Duration = Duration::from_secs(5);
/// How long between two askings.
const PAUSE: Duration = Duration::from_millis(20);

/// A folder with the log and the photos.
#[derive(Debug)]
pub struct Store {
    pub(crate) db: Connection,
    pub(crate) shelves: Shelves,
    pub(crate) arrivals: Option<Sender<Sha256Hex>>,
    device: DeviceId,
}

impl Store {
    /// Opens the store in `dir`, making it when it is not there.
    ///
    /// # Errors
    /// [`StoreError::Damaged`], [`StoreError::Newer`], [`StoreError::Busy`],
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn open(dir: &Path) -> Result<Store, StoreError> {
        let path = dir.join("swarfbook.db");
        private_folder(&dir.join("photos")).map_err(StoreError::file(say!(
            "the folder {} can't be made",
            dir.display()
        )))?;
        let mut db = Connection::open(&path)?;
        close_to_others(dir);
        db.busy_timeout(WAIT)?;
        configure(&db)
            .and_then(|()| migrate(&mut db))
            .map_err(|error| match error {
                StoreError::Damaged(_) => StoreError::Damaged(path),
                other => other,
            })?;
        let device = own_device(&db)?;
        let store = Store {
            db,
            shelves: Shelves {
                dir: dir.to_owned(),
            },
            arrivals: None,
            device,
        };
        store.clear_half_written_photos()?;
        Ok(store)
    }

    /// This device's name in the log.
    pub fn device(&self) -> DeviceId {
        self.device
    }

    /// The files beside the database.
    pub fn shelves(&self) -> Shelves {
        self.shelves.clone()
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
        fs4::available_space(&self.shelves.dir)
            .map_err(StoreError::file(say!("the free space can't be read")))
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

fn migrate(db: &mut Connection) -> Result<(), StoreError> {
    let known = MIGRATIONS.len() as i64;
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

fn own_device(db: &Connection) -> Result<DeviceId, StoreError> {
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
