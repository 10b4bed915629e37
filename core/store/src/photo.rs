//! Photos as files named by their SHA-256, kept as taken.

use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;

use crate::shelves::HALF;
use crate::{Store, StoreError};

/// The most that one photo may weigh: a 50 MP JPEG and room to spare.
pub const MAX_PHOTO_BYTES: usize = 64 * 1024 * 1024;

/// A half-written file this old was left by a kill; a younger one may be
/// another program's, at work on the same store.
const ABANDONED: Duration = Duration::from_secs(10 * 60);

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
        // A damaged file under the name gives way to the genuine one.
        if !fs::read(&target).is_ok_and(|kept| kept == bytes) {
            self.shelves
                .write_whole(&target, bytes)
                .map_err(StoreError::file(say!("the photo can't be written")))?;
        }
        self.shelves.mended(name);
        Ok(name)
    }

    /// Whether the photo is here, as far as is known: [`Store::photo`] checks it.
    pub fn has_photo(&self, photo: Sha256Hex) -> bool {
        self.photo_path(photo).is_file()
    }

    /// Where the photo lies, or would lie.
    pub fn photo_path(&self, photo: Sha256Hex) -> PathBuf {
        self.shelves.photo_path(photo)
    }

    /// The photo's bytes as taken.
    ///
    /// # Errors
    /// As [`Shelves::photo`].
    pub fn photo(&self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        self.shelves.photo(photo)
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

    /// Whether an entry names this photo.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn is_photo_named(&self, photo: Sha256Hex) -> Result<bool, StoreError> {
        Ok(self
            .db
            .prepare_cached("SELECT EXISTS (SELECT 1 FROM photo_named WHERE photo = ?1)")?
            .query_row([photo.to_string()], |row| row.get(0))?)
    }

    /// What a kill left half written was never named by an entry. Where it can't be removed
    /// it does no harm.
    pub(crate) fn clear_half_written_photos(&self) {
        let files = fs::read_dir(self.shelves.dir.join("photos"));
        for file in files.into_iter().flatten().flatten() {
            let old = file
                .metadata()
                .and_then(|meta| meta.modified())
                .map(|at| at.elapsed().is_ok_and(|age| age > ABANDONED))
                .unwrap_or(false);
            if old && file.file_name().to_string_lossy().starts_with(HALF) {
                let _ = fs::remove_file(file.path());
            }
        }
    }
}
