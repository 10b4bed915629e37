//! Photos, there and back, each from where it last ended.

use std::ops::Deref;

use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_store::{Arrived, MAX_PHOTO_BYTES, Photos, Store, StoreError};
use swarfbook_words::say;

use super::{Outcome, SyncError, calls};
use crate::message::{PhotoMissing, PieceTaken, Refused};
use crate::peer::{Peer, PeerError};
use crate::serve::{missing_in, piece_of};

/// Sends photos that the hub misses and this device has.
pub(super) fn push<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    for PhotoMissing { photo, arrived } in calls::photos_missing(hub)? {
        let photos = store().photos();
        match photos.get(photo) {
            Ok(_) => {}
            Err(StoreError::Photo(_)) => continue,
            // What is damaged here would be refused there, after all of it was sent.
            Err(_) => {
                outcome.refused.push(wrong(photo));
                continue;
            }
        }
        match push_one(hub, &photos, photo, arrived) {
            Ok(true) => outcome.photos_sent += 1,
            Ok(false) => outcome.refused.push(wrong(photo)),
            // It is about this photo; the others may pass.
            Err(SyncError::Peer(PeerError::Refused { status: 422, words })) => {
                outcome.refused.push(Refused {
                    device: None,
                    words,
                });
            }
            Err(error) => return Err(error),
        }
    }
    Ok(())
}

/// Whether the photo is whole there in the end.
fn push_one(
    hub: &dyn Peer,
    photos: &Photos,
    photo: Sha256Hex,
    arrived: u64,
) -> Result<bool, SyncError> {
    let mut at = arrived;
    // Bytes from an attempt before this one, or beside it, may be wrong: once from the start.
    let mut again = true;
    loop {
        let Some(piece) = piece_of(photos, photo, at)? else {
            // Found damaged by another thread meanwhile.
            return Ok(false);
        };
        match calls::push_piece(hub, photo, at, piece)? {
            PieceTaken::Whole => return Ok(true),
            PieceTaken::Upto(next) if next > at => at = next,
            PieceTaken::Upto(_) | PieceTaken::Wrong if again => {
                again = false;
                at = 0;
            }
            PieceTaken::Upto(_) | PieceTaken::Wrong => return Ok(false),
        }
    }
}

/// Takes in photos that lines here name.
pub(super) fn pull<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    hub_store: DeviceId,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    let missing = missing_in(&store(), hub_store)?;
    for PhotoMissing { photo, arrived } in missing {
        match pull_one(store, hub, hub_store, photo, arrived)? {
            Pulled::Whole => outcome.photos_taken += 1,
            Pulled::Nowhere => outcome.photos_nowhere += 1,
            Pulled::Wrong => outcome.refused.push(wrong(photo)),
        }
    }
    Ok(())
}

enum Pulled {
    Whole,
    Nowhere,
    Wrong,
}

fn pull_one<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    hub_store: DeviceId,
    photo: Sha256Hex,
    arrived: u64,
) -> Result<Pulled, SyncError> {
    let mut at = arrived;
    let mut again = at > 0;
    loop {
        let Some(piece) = calls::piece(hub, photo, at)? else {
            return Ok(Pulled::Nowhere);
        };
        let too_large = piece.total == 0 || piece.total > MAX_PHOTO_BYTES as u64;
        let ends_at = at.saturating_add(piece.bytes.len() as u64);
        // No bytes although the photo does not end here: what arrived is not of it.
        let stuck = piece.bytes.is_empty() && at != piece.total;
        let state = if too_large || ends_at > piece.total || stuck {
            store().forget_arrived(photo, hub_store);
            Arrived::Wrong
        } else {
            store().arrive(photo, hub_store, at, &piece.bytes, piece.total)?
        };
        match state {
            Arrived::Whole => return Ok(Pulled::Whole),
            Arrived::Upto(next) if next > at => at = next,
            Arrived::Upto(next) => {
                return Err(PeerError::Garbled(say!(
                    "the-photo-photo-stands-at-next",
                    photo = photo,
                    next = next
                ))
                .into());
            }
            Arrived::Wrong if again => {
                again = false;
                at = 0;
            }
            Arrived::Wrong => return Ok(Pulled::Wrong),
        }
    }
}

fn wrong(photo: Sha256Hex) -> Refused {
    Refused {
        device: None,
        words: say!("the-photo-photo-is-damaged-at-its-source", photo = photo),
    }
}
