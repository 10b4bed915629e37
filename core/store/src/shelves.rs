//! Photos and their copies as files. Needs no database, so that another thread may
//! read and write them while the store is in use.

use std::fs::{self, File};
use std::io::Write;
use std::path::{Path, PathBuf};

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;
use uuid::Uuid;

use crate::StoreError;
use crate::private::{private_file, private_folder};

/// What half-written files are called until they are whole.
pub(crate) const HALF: &str = "half-";

/// Where a store's photos and their copies lie.
///
/// Copies are smaller, kept to save the making: never evidence, never exported or
/// sent to another store, and made again when they are gone.
#[derive(Debug, Clone)]
pub struct Shelves {
    pub(crate) dir: PathBuf,
}

impl Shelves {
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

    /// The copy of a photo in this form, when it was kept.
    pub fn copy(&self, photo: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        fs::read(self.copy_path(photo, form)).ok()
    }

    /// Keeps a copy; a kill leaves the whole or none.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn keep_copy(&self, photo: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError> {
        self.write_whole(&self.copy_path(photo, form), bytes)
            .map_err(StoreError::file("a photo's copy can't be kept"))
    }

    fn copy_path(&self, photo: Sha256Hex, form: &str) -> PathBuf {
        shelved(&self.dir.join("copies").join(form), photo)
    }
}

fn write_and_rename(half: &Path, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = private_file(half)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    into_place(half, target)
}

/// Gives a file that is whole and synced its name.
pub(crate) fn into_place(half: &Path, target: &Path) -> std::io::Result<()> {
    private_folder(target.parent().unwrap_or(target))?;
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

/// Windows can't open a folder as a file; there the rename is enough.
fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
