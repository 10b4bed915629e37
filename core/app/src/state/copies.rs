//! The copies of photos that reports show: small, without metadata, kept once made.
//! To decode a dozen photos of a phone takes seconds; to read their copies does not.

use std::sync::mpsc::channel;
use std::thread;

use swarfbook_debris::{Unreadable, Upright, copy_within, decode, jpeg_size_px};
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::PHOTO_BUDGET_BYTES;
use swarfbook_store::{Photos, Store, StoreError};

/// Long side, px: readable, and a dozen fit a mail.
const SIDE_PX: u32 = 1200;
/// Names how the copies are made. One that is made otherwise needs another name.
const FORM: &str = "report-2";

/// The copy of a photo that has just come in.
pub(crate) fn make(upright: Upright) -> Result<Vec<u8>, Unreadable> {
    copy_within(upright, SIDE_PX, PHOTO_BUDGET_BYTES)
}

/// Keeps it. Where there is no room it is made again for each report.
pub(crate) fn keep(photos: &Photos, photo: Sha256Hex, copy: &[u8]) {
    let _ = photos.keep_copy(photo, FORM, copy);
}

/// Whether a photo has its copy already.
pub(crate) fn has(photos: &Photos, photo: Sha256Hex) -> bool {
    kept(photos, photo).is_some()
}

/// Makes the copies of photos that come in from other stores, one after another and
/// beside all other work, for as long as the store is open.
pub(crate) fn follow(store: &mut Store) {
    let (tell, arrivals) = channel();
    let photos = store.photos();
    let begun = thread::Builder::new()
        .name("copies".into())
        .spawn(move || arrivals.iter().for_each(|photo| catch_up(&photos, photo)));
    // Without a thread they are made when a report asks for them.
    if begun.is_ok() {
        store.tell_arrivals(tell);
    }
}

fn catch_up(photos: &Photos, photo: Sha256Hex) {
    // What can't be read is left out of the report, which says so.
    if !has(photos, photo)
        && let Ok(taken) = photos.get(photo)
    {
        made(photos, photo, &taken);
    }
}

/// Why there is no copy of a photo.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Missing {
    /// Its file is still on another device.
    Away,
    /// Its file can't be read as a picture.
    Damaged,
}

/// The copy of a photo with its size.
pub(crate) fn of(store: &Store, photo: Sha256Hex) -> Result<(Vec<u8>, [u32; 2]), Missing> {
    let photos = store.photos();
    // Also where there is a copy: what is shown must be there to be looked at.
    let taken = photos.get(photo).map_err(|why| match why {
        StoreError::Photo(_) => Missing::Away,
        _ => Missing::Damaged,
    })?;
    kept(&photos, photo)
        .or_else(|| made(&photos, photo, &taken))
        .ok_or(Missing::Damaged)
}

/// Copies do not travel: those of photos from other devices are made here.
fn made(photos: &Photos, photo: Sha256Hex, taken: &[u8]) -> Option<(Vec<u8>, [u32; 2])> {
    let copy = make(decode(taken).ok()?).ok()?;
    keep(photos, photo, &copy);
    let size_px = jpeg_size_px(&copy)?;
    Some((copy, size_px))
}

fn kept(photos: &Photos, photo: Sha256Hex) -> Option<(Vec<u8>, [u32; 2])> {
    let copy = photos.copy(photo, FORM)?;
    let size_px = jpeg_size_px(&copy)?;
    Some((copy, size_px))
}
