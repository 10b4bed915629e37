//! Smaller copies of photos, kept beside them to save the making: never evidence,
//! never exported or sent to another store, and made again when they are gone.

use std::fs;
use std::path::PathBuf;

use swarfbook_job::id::Sha256Hex;

use crate::photo::shelved;
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
        self.write_whole(&self.copy_path(photo, form), bytes)
            .map_err(StoreError::file("a photo's copy can't be kept"))
    }

    fn copy_path(&self, photo: Sha256Hex, form: &str) -> PathBuf {
        shelved(&self.dir.join("copies").join(form), photo)
    }
}
