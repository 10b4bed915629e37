//! What keeps the bytes of photos: the seam that a folder, and later an object store, stands
//! behind. What a photo must be, and what becomes of a damaged one, is decided above it
//! ([`crate::Photos`]); here a name is a name.

use std::fmt::Debug;

use swarfbook_job::id::{DeviceId, Sha256Hex};

use crate::StoreError;

/// Bytes under names that are their SHA-256, half arrived ones, and copies. Blocking; used by
/// several threads, and programs, at once.
pub trait Blobs: Debug + Send + Sync {
    /// Keeps bytes under a name, in place of what was there. They are whole and lasting when
    /// this returns; cut short anywhere it leaves what was there, or the whole.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    fn put(&self, name: Sha256Hex, bytes: &[u8]) -> Result<(), StoreError>;

    /// The bytes under a name, unchecked; `None` where there are none.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn get(&self, name: Sha256Hex) -> Result<Option<Vec<u8>>, StoreError>;

    /// Whether there is something under a name.
    fn has(&self, name: Sha256Hex) -> bool;

    /// At most `most` bytes from byte `from` on, unchecked, and how many there are in all.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn range(
        &self,
        name: Sha256Hex,
        from: u64,
        most: usize,
    ) -> Result<Option<(u64, Vec<u8>)>, StoreError>;

    /// Throws away what is under a name. Where it can't be, it does no harm.
    fn forget(&self, name: Sha256Hex);

    /// Takes what is under a name away from there, keeps it, and gives it; `None` where it
    /// has to stay.
    fn set_aside(&self, name: Sha256Hex) -> Option<Vec<u8>>;

    /// Whether something of this name was set aside.
    fn is_aside(&self, name: Sha256Hex) -> bool;

    /// Throws away what was set aside. Where it can't be, it does no harm.
    fn forget_aside(&self, name: Sha256Hex);

    /// How many bytes of a blob have arrived from a source; `None` before the first.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn staged(&self, name: Sha256Hex, source: DeviceId) -> Result<Option<u64>, StoreError>;

    /// Keeps a piece that arrives, from byte `at` on. The same piece twice changes nothing.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    fn stage(
        &self,
        name: Sha256Hex,
        source: DeviceId,
        at: u64,
        piece: &[u8],
    ) -> Result<(), StoreError>;

    /// All that has arrived from a source.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn staged_bytes(
        &self,
        name: Sha256Hex,
        source: DeviceId,
    ) -> Result<Option<Vec<u8>>, StoreError>;

    /// Gives what has arrived its name, as lasting as [`Blobs::put`] does.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    fn finish(&self, name: Sha256Hex, source: DeviceId) -> Result<(), StoreError>;

    /// Throws away what has arrived. Where there is nothing, it is as wanted.
    fn forget_staged(&self, name: Sha256Hex, source: DeviceId);

    /// A copy of the photo of this name, in this form, unchecked.
    fn copy(&self, name: Sha256Hex, form: &str) -> Option<Vec<u8>>;

    /// Keeps a copy: whole or not at all. It may be gone at any time.
    ///
    /// # Errors
    /// [`StoreError::Full`], [`StoreError::File`].
    fn keep_copy(&self, name: Sha256Hex, form: &str, bytes: &[u8]) -> Result<(), StoreError>;

    /// How many bytes can still be kept.
    ///
    /// # Errors
    /// [`StoreError::File`].
    fn free_bytes(&self) -> Result<u64, StoreError>;
}
