//! From a piece's looks to probabilities of classes, or to no particle at all.

use std::collections::BTreeMap;

use swarfbook_job::census::{DebrisClass, PhotoKind};

use super::boosted::Boosted;
use super::looks::COUNT;

/// Outcomes: no particle, then the classes in the order of `DebrisClass::ALL`.
pub const OUTCOMES: usize = 10;

/// Tells the outcomes' probabilities.
pub type PieceTrees = Boosted<OUTCOMES>;

/// A piece is kept when it is more likely than this to be one. Of 0.3 to 0.6 over the folds of all
/// three photo sets: on paper pieces are missed before anything else passes for one, in pans ribs
/// and film do pass; on a magnet, where few pieces stand in much paste, as in pans.
fn keep(kind: PhotoKind) -> f64 {
    match kind {
        PhotoKind::Patch => 0.3,
        PhotoKind::Pan | PhotoKind::Magnet => 0.4,
    }
}
/// Probabilities below this are not written.
const NEGLIGIBLE: f64 = 0.02;

/// The probability that it is a particle, and the classes' given that it is one; `None` when it is none.
pub(crate) fn judge(
    trees: &PieceTrees,
    looks: &[f32; COUNT],
    kind: PhotoKind,
) -> Option<(f64, BTreeMap<DebrisClass, f64>)> {
    if trees.is_empty() {
        return Some((1.0, BTreeMap::from([(DebrisClass::SteelFlake, 1.0)])));
    }
    let shares = trees.shares(looks).map(f64::from);
    let real = 1.0 - shares[0];
    if real < keep(kind) {
        return None;
    }
    let all = DebrisClass::ALL
        .iter()
        .zip(&shares[1..])
        .map(|(c, p)| (*c, p / real));
    Some((real, all.filter(|(_, p)| *p >= NEGLIGIBLE).collect()))
}
