//! Photos as files named by their SHA-256, kept as taken.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;
use uuid::Uuid;

use crate::{Store, StoreError};

/// The most that one photo may weigh: a 50 MP JPEG and room to spare.
pub const MAX_PHOTO_BYTES: usize = 64 * 1024 * 1024;

/// A half-written file this old was left by a kill; a younger one may be
/// another program's, at work on the same store.
const ABANDONED: Duration = Duration::from_secs(10 * 60);

/// What half-written files are called until they are whole.
pub(crate) const HALF: &str = "half-";

fn write_and_rename(half: &Path, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = File::create(half)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    into_place(half, target)
}

/// Gives a file that is whole and synced its name.
pub(crate) fn into_place(half: &Path, target: &Path) -> std::io::Result<()> {
    fs::create_dir_all(target.parent().unwrap_or(target))?;
    fs::rename(half, target)?;
    // The name must be on disk too, or the entry would name nothing; and the shelf's, which may be new.
    target.ancestors().skip(1).take(2).try_for_each(sync_folder)
}

/// Where a photo's file lies in a folder of them: on a shelf by how its name begins.
pub(crate) fn shelved(folder: &Path, photo: Sha256Hex) -> PathBuf {
    let name = photo.to_string();
    let shelf: String = name.chars().take(2).collect();
    folder.join(shelf).join(name)
}

impl Store {
    /// Keeps a photo; it is whole and synced when this returns its name.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when empty or over [`MAX_PHOTO_BYTES`],
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn put_photo(&self, bytes: &[u8]) -> Result<Sha256Hex, StoreError> {
        if bytes.is_empty() {
            return Err(StoreError::Photo(say!("the photo is empty")));
        }
        if bytes.len() > MAX_PHOTO_BYTES {
            return Err(StoreError::Photo(say!(
                "the photo has {} MB; the most is {} MB",
                bytes.len() / 1_048_576,
                MAX_PHOTO_BYTES / 1_048_576
            )));
        }
        let name = Sha256Hex::of(bytes);
        let target = self.photo_path(name);
        if target.exists() {
            return Ok(name);
        }
        self.write_whole(&target, bytes)
            .map_err(StoreError::file(say!("the photo can't be written")))?;
        Ok(name)
    }

    /// Writes a file below this store's folder; a kill leaves the whole or none.
    pub(crate) fn write_whole(&self, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
        // There, whatever it becomes, so that what a kill leaves is swept.
        let half = self
            .dir
            .join("photos")
            .join(format!("{HALF}{}", Uuid::new_v4()));
        let written = write_and_rename(&half, target, bytes);
        if written.is_err() {
            // What could not be written whole must not take up the room.
            let _ = fs::remove_file(&half);
        }
        written
    }

    /// Whether the photo is here, whole.
    pub fn has_photo(&self, photo: Sha256Hex) -> bool {
        self.photo_path(photo).is_file()
    }

    /// Where the photo lies, or would lie.
    pub fn photo_path(&self, photo: Sha256Hex) -> PathBuf {
        shelved(&self.dir.join("photos"), photo)
    }

    /// The photo's bytes as taken.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when it is not here (not synced yet).
    pub fn photo(&self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        fs::read(self.photo_path(photo)).map_err(|error| match error.kind() {
            std::io::ErrorKind::NotFound => {
                StoreError::Photo(say!("the photo {} is not on this device yet", photo))
            }
            _ => StoreError::file(say!("the photo can't be read"))(error),
        })
    }

    /// Photos that entries name.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn photos_named(&self) -> Result<Vec<Sha256Hex>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT photo FROM photo_named ORDER BY photo")?;
        let rows = query.query_map([], |row| row.get::<_, String>(0))?;
        let mut photos = Vec::new();
        for row in rows {
            photos.extend(row?.parse::<Sha256Hex>().ok());
        }
        Ok(photos)
    }

    /// What a kill left half written was never named by an entry.
    pub(crate) fn clear_half_written_photos(&self) -> Result<(), StoreError> {
        let wrong = || StoreError::file(say!("the photo folder can't be read"));
        for file in fs::read_dir(self.dir.join("photos")).map_err(wrong())? {
            let file = file.map_err(wrong())?;
            let old = file
                .metadata()
                .and_then(|meta| meta.modified())
                .map(|at| at.elapsed().is_ok_and(|age| age > ABANDONED))
                .unwrap_or(false);
            if old && file.file_name().to_string_lossy().starts_with(HALF) {
                fs::remove_file(file.path()).map_err(wrong())?;
            }
        }
        Ok(())
    }
}

/// Windows can't open a folder as a file; there the rename is enough.
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
