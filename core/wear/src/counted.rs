//! Which pieces the score counts, for whoever shows them.

use crate::count::{Size, Weighing};
use crate::exposure::Exposure;
use crate::named::Names;
use crate::{Evidence, HazardTable, PieceAt, WearProblem};

/// The pieces that the score counts, each once: pan and patch show the same residue, so
/// that of each weight the greater counts, and what stands in the magnets is added; a piece
/// that somebody named is among them. Only
/// those of which the caller said where they are.
///
/// # Errors
/// As for [`crate::assess`].
pub fn counted(evidence: &Evidence, table: &HazardTable) -> Result<Vec<PieceAt>, WearProblem> {
    crate::check::check(evidence)?;
    let exposure = Exposure::of(evidence, table);
    let names = Names::of(evidence, &exposure, table);
    let weighing = Weighing {
        evidence,
        exposure: &exposure,
        table,
        taken: &names.taken,
    };
    let cells = weighing.cells(Size::Best);
    let mut pieces: Vec<PieceAt> = cells.iter().flat_map(|cell| cell.at()).collect();
    pieces.extend(names.named.into_iter().flat_map(|named| named.pieces));
    pieces.sort();
    Ok(pieces)
}
