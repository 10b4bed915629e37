//! From a piece's looks to probabilities of classes, or to no particle at all.

use std::collections::BTreeMap;

use swarfbook_job::census::{DebrisClass, PhotoKind};

use super::looks::COUNT;
use super::trees::Trees;

/// Outcomes: no particle, then the classes in the order of `DebrisClass::ALL`.
pub const OUTCOMES: usize = 10;

/// Tells the outcomes' shares.
pub type PieceForest = Trees<OUTCOMES>;

/// A piece is kept when it is more likely than this to be one. Of 0.4 to 0.7 over the folds of all
/// three photo sets; on a magnet, where few pieces stand in much paste, the middle.
fn keep(kind: PhotoKind) -> f64 {
    if kind == PhotoKind::Magnet { 0.5 } else { 0.6 }
}
/// Power that the forest's shares are raised to: a forest's mean is surer than it looks. Of 0.8 to
/// 2.5 the one with the least calibration error over the folds of all three photo sets.
const SHARPEN: f64 = 1.4;
/// Probabilities below this are not written.
const NEGLIGIBLE: f64 = 0.02;

/// The classes' probabilities, given that it is a particle; `None` when it is none.
pub(crate) fn judge(
    forest: &PieceForest,
    looks: &[f32; COUNT],
    kind: PhotoKind,
) -> Option<BTreeMap<DebrisClass, f64>> {
    if forest.trees.is_empty() {
        return Some(BTreeMap::from([(DebrisClass::SteelFlake, 1.0)]));
    }
    let told = forest.judge(looks).map(f64::from);
    let sum = told.iter().sum::<f64>().max(1e-9);
    let shares = told.map(|v| v / sum);
    let real = 1.0 - shares[0];
    if real < keep(kind) {
        return None;
    }
    let total: f64 = shares[1..].iter().map(|p| p.powf(SHARPEN)).sum();
    let all = DebrisClass::ALL
        .iter()
        .zip(&shares[1..])
        .map(|(c, p)| (*c, p.powf(SHARPEN) / total.max(1e-12)));
    Some(all.filter(|(_, p)| *p >= NEGLIGIBLE).collect())
}
