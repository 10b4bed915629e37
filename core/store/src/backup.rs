//! A copy of a store that is whole, made while the store is in use, and a store out of it.

use std::fs::{self, File};
use std::path::Path;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;
use uuid::Uuid;

use crate::beside::{self, HeadFile};
use crate::counted::count;
use crate::files::{Folder, sync_folder, write_whole};
use crate::gone::once_here;
use crate::outside::place;
use crate::rows::{Lines, Rows};
use crate::sqlite::{Copied, copied_file};
use crate::{LostLines, Photos, Store, StoreError, key, log};

/// In the folder of a backup: says what it is, and of which device's store.
const MARK: &str = "swarfbook.backup";
const DATABASE: &str = "swarfbook.db";
const HALF_DATABASE: &str = "swarfbook.db.half";
/// The setting with the names that a restored device had before.
const EARLIER_NAMES: &str = "earlier_names";

/// What a backup holds, or what was brought back from one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct BackedUp {
    /// Lines of the log, each read.
    pub lines: u64,
    /// Lines that are missing in the store or the backup, by their numbers.
    pub lines_lost: Vec<LostLines>,
    /// How many lines more there were, of which nobody knows the numbers.
    pub lines_unnamed: u64,
    /// Lines that do not name the one before them, by device and number.
    pub lines_unfit: Vec<(DeviceId, u64)>,
    /// Photos and kept reports, each read and found to be what its name says.
    pub photos: u64,
    /// Those of them that were not there before.
    pub photos_new: u64,
    /// Photos that lines name and that are not in this store.
    pub photos_missing: u64,
    /// Those of them that its device had.
    pub photos_lost: Vec<Sha256Hex>,
    /// Photos that are damaged in the store, and that no earlier backup in this folder has.
    pub photos_damaged: Vec<Sha256Hex>,
}

impl BackedUp {
    /// Whether nothing is missing that once was there.
    pub fn is_whole(&self) -> bool {
        self.lines_lost.is_empty()
            && self.lines_unnamed == 0
            && self.lines_unfit.is_empty()
            && self.photos_lost.is_empty()
            && self.photos_damaged.is_empty()
    }
}

impl Store {
    /// Writes all of the store to the folder `to`, while others read and write it: the
    /// database as it is at one moment, then the photos that it names. Database and photos
    /// are read back before it is called done. A folder with an earlier backup of this store
    /// is brought up to date; until the end it holds the earlier one.
    ///
    /// # Errors
    /// [`StoreError::Backup`] when the folder is not for this, [`StoreError::Damaged`] when
    /// the database is, [`StoreError::Full`], [`StoreError::File`].
    pub fn backup(&self, to: &Path) -> Result<BackedUp, StoreError> {
        let mark = format!(
            "A backup of a Swarfbook store, for `swarfbook restore`. Device {}\n",
            self.device()
        );
        self.refuse_other_folders(to, &mark)?;
        let there = Photos::of(Folder::make(to).map_err(unwritten(to))?);
        // That of an earlier backup stays, whatever becomes of this one.
        if !to.join(DATABASE).exists() {
            write_whole(&to.join("photos"), &to.join(MARK), mark.as_bytes())
                .map_err(unwritten(to))?;
        }
        let half = to.join(HALF_DATABASE);
        let copy = self.log.copy(&half)?;
        let done = photos(&copy, &self.photos, &there)?;
        let had = copy.had()?;
        finished(copy, &half, to)?;
        HeadFile::open(to, had).map_err(unwritten(to))?;
        Ok(done)
    }

    fn refuse_other_folders(&self, to: &Path, mark: &str) -> Result<(), StoreError> {
        if place(to).starts_with(place(&self.dir)) {
            return Err(StoreError::Backup(say!(
                "a-backup-cant-lie-in-the-folder-that"
            )));
        }
        let earlier = to.join(DATABASE).exists();
        if earlier && !fs::read_to_string(to.join(MARK)).is_ok_and(|found| found == mark) {
            return Err(StoreError::Backup(say!(
                "the-folder-to-holds-another-store-or-a",
                to = to.display()
            )));
        }
        Ok(())
    }

    /// The names that this device had before it was restored, the first one first: whoever
    /// was paired with it still calls it so.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn earlier_names(&self) -> Result<Vec<DeviceId>, StoreError> {
        self.rows(earlier_names)
    }

    /// Makes a store in the folder `to`, which has none, out of a backup. It gets a device
    /// name and a key of its own: what the old device wrote after the backup may be at the hub
    /// already, under numbers that would be given out again, and two devices under one key
    /// could write in each other's name.
    ///
    /// # Errors
    /// [`StoreError::Backup`] when `from` is no backup or `to` is not empty,
    /// [`StoreError::Damaged`] when the backup is, [`StoreError::Full`], [`StoreError::File`].
    pub fn restore(from: &Path, to: &Path) -> Result<BackedUp, StoreError> {
        let database = from.join(DATABASE);
        if !from.join(MARK).is_file() || !database.is_file() {
            return Err(StoreError::Backup(say!(
                "the-folder-from-holds-no-backup",
                from = from.display()
            )));
        }
        // What an attempt that was cut short left may be written over.
        let only_halves = |name: &str| {
            name == "photos" || name == beside::NAME || name.starts_with(HALF_DATABASE)
        };
        let taken = fs::read_dir(to).into_iter().flatten().flatten();
        let mut taken = taken.filter(|file| !file.file_name().to_str().is_some_and(only_halves));
        if let Some(file) = taken.next() {
            return Err(StoreError::Backup(say!(
                "the-folder-to-is-not-empty-it-holds",
                to = to.display(),
                file_name = file.file_name().display()
            )));
        }
        let here = Photos::of(Folder::make(to).map_err(unwritten(to))?);
        // It may speak of another backup.
        let _ = fs::remove_file(to.join(beside::NAME));
        let half = to.join(HALF_DATABASE);
        let copy = copied_file(&database, &half)?;
        let there = Photos::of(Folder::at(from));
        let done = photos(&copy, &there, &here)?;
        let had = copy.had()?;
        if beside::read(from).is_some_and(|said| said > had) {
            return Err(StoreError::Damaged(database));
        }
        become_another(&copy.rows())?;
        HeadFile::open(to, had).map_err(unwritten(to))?;
        finished(copy, &half, to)?;
        Ok(done)
    }
}

/// Gives a database the name of a device that nobody was yet, and no key: that is made with
/// the first line. The old device's key stays known as that of its lines and reports.
fn become_another(rows: &dyn Rows) -> Result<(), StoreError> {
    let old = log::device(rows)?;
    if let Some(key) = key::kept(rows)? {
        rows.set_writer(old, &key.public_hex())?;
    }
    let mut names = earlier_names(rows)?;
    names.push(old);
    rows.unset(key::SETTING)?;
    rows.set(log::DEVICE, &Uuid::new_v4().to_string())?;
    rows.set(EARLIER_NAMES, &serde_json::to_string(&names)?)
}

pub(crate) fn earlier_names(rows: &dyn Rows) -> Result<Vec<DeviceId>, StoreError> {
    Ok(match rows.setting(EARLIER_NAMES)? {
        Some(text) => serde_json::from_str(&text)?,
        None => Vec::new(),
    })
}

/// Gives the database its name, last of all.
fn finished(copy: Copied, half: &Path, to: &Path) -> Result<(), StoreError> {
    copy.close()?;
    File::options()
        .write(true)
        .open(half)
        .and_then(|file| file.sync_all())
        .and_then(|()| fs::rename(half, to.join(DATABASE)))
        .and_then(|()| sync_folder(to))
        .map_err(unwritten(to))
}

/// Counts the lines of a database, and brings the photos that it names from one folder to
/// another.
fn photos(copy: &Copied, from: &Photos, to: &Photos) -> Result<BackedUp, StoreError> {
    let found = count(&copy.rows(), copy.had()?)?;
    let mut done = BackedUp {
        lines: found.lines,
        lines_lost: found.lost,
        lines_unnamed: found.unnamed,
        lines_unfit: found.unfit,
        ..BackedUp::default()
    };
    let mut missing = Vec::new();
    for photo in copy.rows().photos_named()? {
        if to.get(photo).is_ok() {
            done.photos += 1;
            continue;
        }
        match from.get(photo) {
            Ok(bytes) => {
                to.put(&bytes)?;
                to.get(photo)?;
                done.photos += 1;
                done.photos_new += 1;
            }
            Err(StoreError::Photo(_)) => missing.push(photo),
            Err(_) => done.photos_damaged.push(photo),
        }
    }
    done.photos_missing = missing.len() as u64;
    done.photos_lost = once_here(&copy.rows(), missing)?;
    Ok(done)
}

fn unwritten(to: &Path) -> impl FnOnce(std::io::Error) -> StoreError {
    StoreError::file(say!("to-cant-be-written", to = to.display()))
}
