//! Photos, out and in, a piece at a time.

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Arrived, Photos, Store, StoreError};
use swarfbook_words::{say, term};

use super::{bad, or_words};
use crate::message::{PIECE_BYTES, PhotoMissing, Piece, PieceTaken, Response, from_query};

/// Photos named in one answer. What is over comes with the next sync.
const MISSING_AT_ONCE: usize = 50_000;

pub(super) fn missing(store: &Store, from: DeviceId) -> Response {
    or_words(missing_in(store, from).map(|missing| Response::json(&missing)))
}

/// Photos that entries name and that are not here, with what arrived from `from`.
pub(crate) fn missing_in(store: &Store, from: DeviceId) -> Result<Vec<PhotoMissing>, StoreError> {
    let mut missing = Vec::new();
    for photo in store.photos_named()? {
        if let Arrived::Upto(arrived) = store.arrived(photo, from)? {
            missing.push(PhotoMissing { photo, arrived });
        }
        if missing.len() == MISSING_AT_ONCE {
            break;
        }
    }
    Ok(missing)
}

pub(super) fn give(store: &Store, target: &str) -> Response {
    let (Some(photo), Some(at)) = (
        from_query::<Sha256Hex>(target, "photo"),
        from_query::<u64>(target, "from"),
    ) else {
        return bad("a photo is asked for by name and offset");
    };
    // Reading is done without the log.
    let photos = store.photos();
    // Before the first piece: who takes them all in would find it damaged only at the end.
    if at == 0
        && let Err(why @ StoreError::PhotoDamaged(_)) = photos.get(photo)
    {
        return Response::refused(404, why.to_string());
    }
    match piece_of(&photos, photo, at) {
        Ok(Some(piece)) => Response::done(piece.write()),
        Ok(None) => Response::refused(
            404,
            say!("the-hub-does-not-have-the-photo-photo", photo = photo),
        ),
        Err(_) => Response::refused(500, term!("the-hub-cant-read-that-photo-look-at")),
    }
}

/// A piece of a photo from `at` on; `None` where the photo is not here.
pub(crate) fn piece_of(
    photos: &Photos,
    photo: Sha256Hex,
    at: u64,
) -> Result<Option<Piece>, StoreError> {
    let range = photos.range(photo, at, PIECE_BYTES)?;
    Ok(range.map(|(total, bytes)| Piece { total, bytes }))
}

pub(super) fn take(store: &Store, from: DeviceId, target: &str, piece: &[u8]) -> Response {
    let (Some(photo), Some(at), Some(total)) = (
        from_query::<Sha256Hex>(target, "photo"),
        from_query::<u64>(target, "from"),
        from_query::<u64>(target, "total"),
    ) else {
        return bad("a photo is sent by name, offset and size");
    };
    if piece.len() > PIECE_BYTES {
        return Response::refused(413, term!("this-piece-of-a-photo-is-larger-than"));
    }
    let taken = expected(store, from, photo).and_then(|expected| {
        if !expected {
            return Err(StoreError::Photo(format!(
                "No line of the log names the photo {photo}."
            )));
        }
        store.arrive(photo, from, at, piece, total)
    });
    or_words(taken.map(|arrived| {
        Response::json(&match arrived {
            Arrived::Whole => PieceTaken::Whole,
            Arrived::Upto(at) => PieceTaken::Upto(at),
            Arrived::Wrong => PieceTaken::Wrong,
        })
    }))
}

/// Lines come first: a photo that none names is nobody's. Asked at its first
/// piece only.
fn expected(store: &Store, from: DeviceId, photo: Sha256Hex) -> Result<bool, StoreError> {
    Ok(store.arrived(photo, from)? != Arrived::Upto(0) || store.is_photo_named(photo)?)
}
