//! The pieces that weigh most: those of the heaviest reason first, of one reason the largest.

use std::collections::BTreeMap;

use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::EntryId;
use swarfbook_wear::Assessment;

use crate::corrected::Piece;
use crate::patch;

/// At most so many pieces, one of each reason before a second of any.
pub fn gravest<'a>(
    state: &'a JobState,
    assessment: &Assessment,
    most: usize,
) -> Vec<(&'a PhotoState, Piece)> {
    // A photo's pieces are worked out once, whatever part of the reasons it shows.
    let mut shown: BTreeMap<EntryId, Vec<Piece>> = BTreeMap::new();
    let mut by_reason: Vec<std::vec::IntoIter<(&PhotoState, Piece)>> = assessment
        .reasons
        .iter()
        .map(|reason| {
            let mut pieces: Vec<(&PhotoState, Piece)> = reason
                .pieces
                .iter()
                .filter_map(|at| {
                    let photo = state.photo(at.photo.parse().ok()?)?;
                    let number = usize::try_from(at.piece).ok()?;
                    let pieces = shown
                        .entry(photo.stamp.entry)
                        .or_insert_with(|| patch::pieces(state, photo));
                    let found = |piece: &&Piece| piece.index == number && !piece.not_debris;
                    Some((photo, pieces.iter().find(found)?.clone()))
                })
                .collect();
            pieces.sort_by(|(_, a), (_, b)| {
                let length = |piece: &Piece| piece.machine.feret_max_mm;
                length(b).total_cmp(&length(a))
            });
            pieces.into_iter()
        })
        .collect();
    let mut gravest = Vec::new();
    while gravest.len() < most {
        let round: Vec<_> = by_reason.iter_mut().filter_map(Iterator::next).collect();
        if round.is_empty() {
            break;
        }
        gravest.extend(round);
    }
    gravest.truncate(most);
    gravest
}
