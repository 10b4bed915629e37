//! Photos that arrive in pieces from another store: kept until they are whole, their hash
//! checked then. What has arrived survives a restart.

use std::sync::PoisonError;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::say;

use crate::{MAX_PHOTO_BYTES, Photos, Store, StoreError};

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
        self.photos.arrived(photo, source)
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
        let _alone = self.arriving.lock().unwrap_or_else(PoisonError::into_inner);
        let before = self.photos.arrived(photo, source)?;
        let now = self.photos.arrive(photo, source, offset, piece, total)?;
        if now == Arrived::Whole && before != Arrived::Whole {
            self.arrived_whole(photo);
        }
        Ok(now)
    }

    /// Throws away what arrived of a photo, to begin again.
    pub fn forget_arrived(&self, photo: Sha256Hex, source: DeviceId) {
        let _alone = self.arriving.lock().unwrap_or_else(PoisonError::into_inner);
        self.photos.blobs.forget_staged(photo, source);
    }
}

impl Photos {
    fn arrived(&self, photo: Sha256Hex, source: DeviceId) -> Result<Arrived, StoreError> {
        if self.has(photo) {
            return Ok(Arrived::Whole);
        }
        let staged = self.blobs.staged(photo, source)?;
        Ok(Arrived::Upto(staged.unwrap_or(0)))
    }

    fn arrive(
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
            self.blobs.forget_staged(photo, source);
            return Ok(Arrived::Wrong);
        }
        let end = offset.saturating_add(piece.len() as u64);
        if total == 0 || total > MAX_PHOTO_BYTES as u64 || end > total {
            return Err(StoreError::Photo(say!(
                "a-photo-of-total-bytes-of-which-up",
                total = total,
                end = end
            )));
        }
        if here != Arrived::Upto(offset) {
            return Ok(here);
        }
        self.blobs.stage(photo, source, offset, piece)?;
        if end < total {
            return Ok(Arrived::Upto(end));
        }
        self.finish(photo, source)
    }

    fn finish(&self, photo: Sha256Hex, source: DeviceId) -> Result<Arrived, StoreError> {
        let Some(bytes) = self.blobs.staged_bytes(photo, source)? else {
            // The same piece came twice at once, and the other one finished.
            return self.arrived(photo, source);
        };
        if Sha256Hex::of(&bytes) != photo {
            self.blobs.forget_staged(photo, source);
            return Ok(Arrived::Wrong);
        }
        self.blobs.finish(photo, source)?;
        self.blobs.forget_aside(photo);
        Ok(Arrived::Whole)
    }
}
