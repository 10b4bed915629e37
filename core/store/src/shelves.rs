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

/// A copy's file begins with the copy's hash, in hexadecimal: its name is the photo's.
const HASH_CHARS: usize = 64;

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

    /// The photo's bytes as taken, checked against its name. A file that is not what its
    /// name says is set aside: the photo is then missing, so that sync, import and whoever
    /// adds it bring the genuine one back.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when it is not here (not synced yet),
    /// [`StoreError::PhotoDamaged`], [`StoreError::File`].
    pub fn photo(&self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        match fs::read(self.photo_path(photo)) {
            Ok(bytes) if Sha256Hex::of(&bytes) == photo => Ok(bytes),
            Ok(_) => self.set_aside(photo).ok_or(StoreError::PhotoDamaged(photo)),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                if self.aside_path(photo).is_file() {
                    return Err(StoreError::PhotoDamaged(photo));
                }
                Err(StoreError::Photo(say!(
                    "the photo {} is not on this device yet",
                    photo
                )))
            }
            Err(error) => Err(StoreError::file(say!("the photo can't be read"))(error)),
        }
    }

    /// Gives a damaged photo's file another name; its bytes are kept, a part may be of use.
    /// Gives the photo back where it was whole after all: another program mended it just
    /// now, or it was the reading that failed.
    fn set_aside(&self, photo: Sha256Hex) -> Option<Vec<u8>> {
        let (here, aside) = (self.photo_path(photo), self.aside_path(photo));
        // In a folder that can't be written it stays, and each reading finds it damaged.
        fs::rename(&here, &aside).ok()?;
        let bytes = fs::read(&aside).ok()?;
        if Sha256Hex::of(&bytes) != photo {
            return None;
        }
        let _ = fs::rename(&aside, &here);
        Some(bytes)
    }

    /// The genuine photo is here: what was set aside has no use any more.
    pub(crate) fn mended(&self, photo: Sha256Hex) {
        let _ = fs::remove_file(self.aside_path(photo));
    }

    fn aside_path(&self, photo: Sha256Hex) -> PathBuf {
        self.photo_path(photo).with_extension("damaged")
    }

    /// The copy of a photo in this form, when it was kept and is as it was kept.
    pub fn copy(&self, photo: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        let kept = fs::read(self.copy_path(photo, form)).ok()?;
        let (hash, copy) = kept.split_at_checked(HASH_CHARS)?;
        (hash == Sha256Hex::of(copy).to_string().as_bytes()).then(|| copy.to_vec())
    }

    /// Keeps a copy; a kill leaves the whole or none.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn keep_copy(&self, photo: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let hash = Sha256Hex::of(bytes).to_string();
        let kept = [hash.as_bytes(), bytes].concat();
        self.write_whole(&self.copy_path(photo, form), &kept)
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
pub(crate) fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}
