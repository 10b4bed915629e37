//! Photos named by their SHA-256, kept as taken: what one must be, and what becomes of a
//! damaged one. Needs no log, so that another thread may read and write them beside it.

use std::sync::Arc;

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;

use crate::{Blobs, Store, StoreError};

/// The most that one photo may weigh: a 50 MP JPEG and room to spare.
pub const MAX_PHOTO_BYTES: usize = 64 * 1024 * 1024;

/// What is kept of a copy begins with the copy's hash, in hexadecimal: its name is the photo's.
const HASH_CHARS: usize = 64;

/// A store's photos and their copies.
///
/// Copies are smaller, kept to save the making: never evidence, never exported or
/// sent to another store, and made again when they are gone.
#[derive(Debug, Clone)]
pub struct Photos {
    pub(crate) blobs: Arc<dyn Blobs>,
}

impl Photos {
    pub(crate) fn of(blobs: impl Blobs + 'static) -> Photos {
        Photos {
            blobs: Arc::new(blobs),
        }
    }

    /// Keeps a photo; it is whole and lasting when this returns its name.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when empty or over [`MAX_PHOTO_BYTES`],
    /// [`StoreError::Full`], [`StoreError::File`].
    pub fn put(&self, bytes: &[u8]) -> Result<Sha256Hex, StoreError> {
        if bytes.is_empty() {
            return Err(StoreError::Photo(say!("the-photo-is-empty")));
        }
        if bytes.len() > MAX_PHOTO_BYTES {
            return Err(StoreError::Photo(say!(
                "the-photo-has-value-mb-the-most-is",
                value = bytes.len() / 1_048_576,
                value_2 = MAX_PHOTO_BYTES / 1_048_576
            )));
        }
        let name = Sha256Hex::of(bytes);
        // A damaged one under the name gives way to the genuine one.
        let kept = self.blobs.get(name);
        if !kept.is_ok_and(|kept| kept.as_deref() == Some(bytes)) {
            self.blobs.put(name, bytes)?;
        }
        self.blobs.forget_aside(name);
        Ok(name)
    }

    /// Whether the photo is here, as far as is known: [`Photos::get`] checks it.
    pub fn has(&self, photo: Sha256Hex) -> bool {
        self.blobs.has(photo)
    }

    /// The photo's bytes as taken, checked against its name. What is not what its
    /// name says is set aside: the photo is then missing, so that sync, import and whoever
    /// adds it bring the genuine one back.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when it is not here (not synced yet),
    /// [`StoreError::PhotoDamaged`], [`StoreError::File`].
    pub fn get(&self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        match self.blobs.get(photo)? {
            Some(bytes) if Sha256Hex::of(&bytes) == photo => Ok(bytes),
            Some(_) => self.set_aside(photo).ok_or(StoreError::PhotoDamaged(photo)),
            None if self.blobs.is_aside(photo) => Err(StoreError::PhotoDamaged(photo)),
            None => Err(StoreError::Photo(say!(
                "the-photo-photo-is-not-on-this-device",
                photo = photo
            ))),
        }
    }

    /// Takes a damaged photo out of the way; its bytes are kept, a part may be of use.
    /// Gives the photo back where it was whole after all: another program mended it just
    /// now, or it was the reading that failed.
    fn set_aside(&self, photo: Sha256Hex) -> Option<Vec<u8>> {
        let bytes = self.blobs.set_aside(photo)?;
        if Sha256Hex::of(&bytes) != photo {
            return None;
        }
        if self.blobs.put(photo, &bytes).is_ok() {
            self.blobs.forget_aside(photo);
        }
        Some(bytes)
    }

    /// At most `most` bytes of a photo from byte `from` on, unchecked, and how many it has;
    /// `None` where it is not here.
    ///
    /// # Errors
    /// [`StoreError::File`].
    pub fn range(
        &self,
        photo: Sha256Hex,
        from: u64,
        most: usize,
    ) -> Result<Option<(u64, Vec<u8>)>, StoreError> {
        self.blobs.range(photo, from, most)
    }

    /// The copy of a photo in this form, when it was kept and is as it was kept.
    pub fn copy(&self, photo: Sha256Hex, form: &str) -> Option<Vec<u8>> {
        let kept = self.blobs.copy(photo, form)?;
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
        self.blobs.keep_copy(photo, form, &kept)
    }
}

impl Store {
    /// The photos of this store, for whoever needs no log.
    pub fn photos(&self) -> Photos {
        self.photos.clone()
    }

    /// Keeps a photo; it is whole and lasting when this returns its name.
    ///
    /// # Errors
    /// As [`Photos::put`].
    pub fn put_photo(&self, bytes: &[u8]) -> Result<Sha256Hex, StoreError> {
        self.photos.put(bytes)
    }

    /// Whether the photo is here, as far as is known: [`Store::photo`] checks it.
    pub fn has_photo(&self, photo: Sha256Hex) -> bool {
        self.photos.has(photo)
    }

    /// The photo's bytes as taken.
    ///
    /// # Errors
    /// As [`Photos::get`].
    pub fn photo(&self, photo: Sha256Hex) -> Result<Vec<u8>, StoreError> {
        self.photos.get(photo)
    }

    /// Photos that entries name.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn photos_named(&self) -> Result<Vec<Sha256Hex>, StoreError> {
        self.rows(|rows| rows.photos_named())
    }

    /// Whether an entry names this photo.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn is_photo_named(&self, photo: Sha256Hex) -> Result<bool, StoreError> {
        self.rows(|rows| rows.is_photo_named(photo))
    }
}
