//! The pieces that weigh most: those of the heaviest reason first, of one reason the largest.

use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_wear::Assessment;

use crate::corrected::Piece;
use crate::patch;

/// At most so many pieces, one of each reason before a second of any.
pub fn gravest<'a>(
    state: &'a JobState,
    assessment: &Assessment,
    most: usize,
) -> Vec<(&'a PhotoState, Piece)> {
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
                    let mut pieces = patch::pieces(state, photo).into_iter();
                    let piece = pieces.find(|piece| piece.index == number && !piece.not_debris)?;
                    Some((photo, piece))
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
