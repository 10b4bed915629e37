//! From a piece's looks to probabilities of classes, or to no particle at all.

use std::collections::BTreeMap;

use swarfbook_job::census::DebrisClass;

use super::forest::{Forest, OUTCOMES};
use super::looks::COUNT;

/// A piece is kept when it is more likely than this to be one: the two errors weigh the same.
const KEEP: f64 = 0.5;
/// Power that the forest's shares are raised to: a forest's mean is surer than it looks. Of 0.8 to
/// 2.5 the one with the least calibration error over the folds of all three photo sets.
const SHARPEN: f64 = 1.4;
/// Probabilities below this are not written.
const NEGLIGIBLE: f64 = 0.02;

/// The classes' probabilities, given that it is a particle; `None` when it is none.
pub(crate) fn judge(forest: &Forest, looks: &[f32; COUNT]) -> Option<BTreeMap<DebrisClass, f64>> {
    if forest.trees.is_empty() {
        return Some(BTreeMap::from([(DebrisClass::SteelFlake, 1.0)]));
    }
    let shares: [f64; OUTCOMES] = forest.judge(looks);
    let real = 1.0 - shares[0];
    if real < KEEP {
        return None;
    }
    let total: f64 = shares[1..].iter().map(|p| p.powf(SHARPEN)).sum();
    let all = DebrisClass::ALL
        .iter()
        .zip(&shares[1..])
        .map(|(c, p)| (*c, p.powf(SHARPEN) / total.max(1e-12)));
    Some(all.filter(|(_, p)| *p >= NEGLIGIBLE).collect())
}
