//! The copies of photos that reports show: small, without metadata, kept once made.
//! To decode a dozen photos of a phone takes seconds; to read their copies does not.

use swarfbook_debris::{Unreadable, Upright, copy_within, decode, jpeg_size_px};
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::PHOTO_BUDGET_BYTES;
use swarfbook_store::Store;

/// Long side, px: readable, and a dozen fit a mail.
const SIDE_PX: u32 = 1200;
/// Names how the copies are made. One that is made otherwise needs another name.
const FORM: &str = "report-1";

/// The copy of a photo that has just come in.
pub(crate) fn make(upright: Upright) -> Result<Vec<u8>, Unreadable> {
    copy_within(upright, SIDE_PX, PHOTO_BUDGET_BYTES)
}

/// Keeps it. Where there is no room it is made again for each report.
pub(crate) fn keep(store: &Store, photo: Sha256Hex, copy: &[u8]) {
    let _ = store.keep_copy(photo, FORM, copy);
}

/// Whether a photo has its copy already.
pub(crate) fn has(store: &Store, photo: Sha256Hex) -> bool {
    kept(store, photo).is_some()
}

/// The copy of a photo with its size; `None` for one that is still on another
/// device, or that can't be read.
pub(super) fn of(store: &Store, photo: Sha256Hex) -> Option<(Vec<u8>, [u32; 2])> {
    if !store.has_photo(photo) {
        return None;
    }
    if let Some(kept) = kept(store, photo) {
        return Some(kept);
    }
    // It came from another device, whose copies do not travel.
    let copy = make(decode(&store.photo(photo).ok()?).ok()?).ok()?;
    keep(store, photo, &copy);
    let size_px = jpeg_size_px(&copy)?;
    Some((copy, size_px))
}

fn kept(store: &Store, photo: Sha256Hex) -> Option<(Vec<u8>, [u32; 2])> {
    let copy = store.copy(photo, FORM)?;
    let size_px = jpeg_size_px(&copy)?;
    Some((copy, size_px))
}
