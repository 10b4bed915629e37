//! Photos that arrive in pieces from another store: a partial file, its hash
//! checked when it is whole, then renamed. It survives a restart.

use std::fs::{self, OpenOptions};
use std::io::Write;
use std::path::PathBuf;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;

use crate::private::owned;
use crate::shelves::into_place;
use crate::{MAX_PHOTO_BYTES, Store, StoreError};

/// How far a photo has arrived.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Arrived {
    /// It is here, its hash checked when it came.
    Whole,
    /// So many bytes are here; the next piece starts there.
    Upto(u64),
    /// All bytes were here and were not what the name says. They were thrown away.
    Wrong,
}

impl Store {
    /// How far `photo` has arrived from `source`.
    ///
    /// # Errors
    /// [`StoreError::File`].
    pub fn arrived(&self, photo: Sha256Hex, source: DeviceId) -> Result<Arrived, StoreError> {
        if self.has_photo(photo) {
            return Ok(Arrived::Whole);
        }
        match fs::metadata(self.partial_path(photo, source)) {
            Ok(file) => Ok(Arrived::Upto(file.len())),
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => Ok(Arrived::Upto(0)),
            Err(error) => Err(StoreError::file(say!("a half arrived photo can't be read"))(error)),
        }
    }

    /// Adds a piece of a photo of `total` bytes. A piece that does not start
    /// where the last one ended is passed over; the answer says where to go on.
    ///
    /// # Errors
    /// [`StoreError::Photo`] when the photo is larger than may be or than it
    /// said, [`StoreError::Full`], [`StoreError::File`].
    pub fn arrive(
        &self,
        photo: Sha256Hex,
        source: DeviceId,
        offset: u64,
        piece: &[u8],
        total: u64,
    ) -> Result<Arrived, StoreError> {
        let here = self.arrived(photo, source)?;
        if matches!(here, Arrived::Upto(length) if length > total) {
            // Left by an attempt that told another size.
            self.forget_arrived(photo, source);
            return Ok(Arrived::Wrong);
        }
        let end = offset.saturating_add(piece.len() as u64);
        if total == 0 || total > MAX_PHOTO_BYTES as u64 || end > total {
            return Err(StoreError::Photo(say!(
                "a photo of {} bytes, of which up to {} were sent, can't be taken in",
                total,
                end
            )));
        }
        if here != Arrived::Upto(offset) {
            return Ok(here);
        }
        let path = self.partial_path(photo, source);
        let wrong = || StoreError::file(say!("a photo that arrives can't be written"));
        let mut file = owned(OpenOptions::new().create(true).append(true))
            .open(&path)
            .map_err(wrong())?;
        file.write_all(piece).map_err(wrong())?;
        if end < total {
            return Ok(Arrived::Upto(end));
        }
        file.sync_all().map_err(wrong())?;
        drop(file);
        self.finish(photo, source)
    }

    /// Throws away what arrived of a photo, to begin again.
    pub fn forget_arrived(&self, photo: Sha256Hex, source: DeviceId) {
        // When there is nothing to remove, it is as wanted.
        let _ = fs::remove_file(self.partial_path(photo, source));
    }

    fn finish(&self, photo: Sha256Hex, source: DeviceId) -> Result<Arrived, StoreError> {
        let path = self.partial_path(photo, source);
        let wrong = || StoreError::file(say!("a photo that arrived can't be kept"));
        let bytes = fs::read(&path).map_err(wrong())?;
        if Sha256Hex::of(&bytes) != photo {
            fs::remove_file(&path).map_err(wrong())?;
            return Ok(Arrived::Wrong);
        }
        into_place(&path, &self.photo_path(photo)).map_err(wrong())?;
        self.shelves.mended(photo);
        self.arrived_whole(photo);
        Ok(Arrived::Whole)
    }

    /// One file for each source: what one sends wrongly spoils nothing of another's.
    fn partial_path(&self, photo: Sha256Hex, source: DeviceId) -> PathBuf {
        self.shelves
            .dir
            .join("photos")
            .join(format!("part-{photo}-{source}"))
    }
}
