//! Smaller copies of photos, kept beside them to save the making: never evidence,
//! never exported or sent to another store, and made again when they are gone.

use std::fs::{self, File};
use std::io::Write;
use std::path::PathBuf;

use swarfbook_job::id::Sha256Hex;
use uuid::Uuid;

use crate::photo::HALF;
use crate::{Store, StoreError};

impl Store {
    /// The copy of a photo in this form, when it was kept.
    pub fn copy(&self, photo: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        fs::read(self.copy_path(photo, form)).ok()
    }

    /// Keeps a copy; a kill leaves the whole or none.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn keep_copy(&self, photo: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let target = self.copy_path(photo, form);
        // There, so that what a kill leaves is swept with the photos' own.
        let half = self
            .dir
            .join("photos")
            .join(format!("{HALF}{}", Uuid::new_v4()));
        let written = (|| {
            let mut file = File::create(&half)?;
            file.write_all(bytes)?;
            // Without this, a power cut may leave a name with nothing behind it.
            file.sync_all()?;
            fs::create_dir_all(target.parent().unwrap_or(&self.dir))?;
            fs::rename(&half, &target)
        })();
        if written.is_err() {
            let _ = fs::remove_file(&half);
        }
        written.map_err(StoreError::file("a photo's copy can't be kept"))
    }

    fn copy_path(&self, photo: Sha256Hex, form: &str) -> PathBuf {
        let name = photo.to_string();
        let shelf: String = name.chars().take(2).collect();
        self.dir.join("copies").join(form).join(shelf).join(name)
    }
}
