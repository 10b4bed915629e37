//! In which order the pieces of a photo are looked at.

use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_wear::{Laid, PhotoSeen, tray as laid_out};

use crate::corrected::Piece;
use crate::patch;
use crate::wear;

/// The pieces of a photo in the order of looking, by their places in `pieces`; what is no debris
/// is not among them. Empty where the weights can't be read.
pub fn tray(state: &JobState, photo: &PhotoState, pieces: &[Piece]) -> Vec<Laid> {
    let Some(census) = patch::census_of(photo, pieces) else {
        return Vec::new();
    };
    let Some(seen) = PhotoSeen::from_census(&photo.stamp.entry.to_string(), &census) else {
        return Vec::new();
    };
    let Ok(table) = wear::table() else {
        return Vec::new();
    };
    let debris: Vec<usize> = (0..pieces.len())
        .filter(|at| !pieces[*at].not_debris)
        .collect();
    let laid = laid_out(&seen, &wear::observations(state), table);
    laid.into_iter()
        .filter_map(|laid| {
            Some(Laid {
                piece: *debris.get(laid.piece)?,
                ..laid
            })
        })
        .collect()
}
