//! The 90 % interval of the hazard, in closed form.
//!
//! Counts: a weighted sum of Poisson counts by the gamma method of Fay and
//! Feuer (1997, from memory), which is Garwood's exact interval when all weights
//! are equal. The doubt about a piece's class adds its variance. The sizes move
//! together (one scale), so their ends give one half width each way; so does the
//! magnet's cover. Half widths of independent parts add in squares (method of
//! variance estimates recovery). The weights themselves are judgement; the
//! interval does not hold the doubt about them.

use swarfbook_job::census::DebrisClass;

use crate::count::{Cell, Size, size_mm};
use crate::exposure::Exposure;
use crate::hazard::{debris_hazard, paste_hazard, paste_seen};
use crate::stats::gamma_quantile;
use crate::table::HazardTable;
use crate::{Evidence, ParticleSeen};

/// Each side's share of doubt: 5 %.
const TAIL: f64 = 0.05;

/// Lower and upper end of the hazard. `fixed` is what observations add.
pub(crate) fn interval(
    evidence: &Evidence,
    cells: &[Cell],
    exposure: &Exposure,
    table: &HazardTable,
    fixed: f64,
) -> (f64, f64) {
    let debris = weighed_counts(cells, exposure, table);
    let best = debris_hazard(evidence, exposure, table, Size::Best);
    let smaller = debris_hazard(evidence, exposure, table, Size::Lo);
    let larger = debris_hazard(evidence, exposure, table, Size::Hi);
    let (paste, paste_lo, paste_hi) = match paste_seen(evidence, table) {
        Some(seen) => {
            let at = |cover: f64| paste_hazard(&seen, cover, exposure, table);
            (at(seen.cover[0]), at(seen.cover[1]), at(seen.cover[2]))
        }
        None => (0.0, 0.0, 0.0),
    };
    let below = [debris.mean - debris.lo, best - smaller, paste - paste_lo];
    let above = [debris.hi - debris.mean, larger - best, paste_hi - paste];
    let centre = debris.mean + paste + fixed;
    let stands = best + paste + fixed;
    // The score counts each piece as its confirmed class, so it can lie outside
    // of what the machine's probabilities allow; the interval holds it anyway.
    let lo = (centre - root_sum_square(below)).max(fixed).min(stands);
    let hi = (centre + root_sum_square(above)).max(stands);
    (lo, hi)
}

fn root_sum_square(half_widths: [f64; 3]) -> f64 {
    half_widths
        .iter()
        .map(|width| width.max(0.0).powi(2))
        .sum::<f64>()
        .sqrt()
}

struct Weighted {
    mean: f64,
    lo: f64,
    hi: f64,
}

fn weighed_counts(cells: &[Cell], exposure: &Exposure, table: &HazardTable) -> Weighted {
    // What one more piece would weigh: the heaviest kind seen, or the table's
    // small flake where none was.
    let mut one_more = table.unseen.k / exposure.distance;
    let mut mean = 0.0;
    let mut variance = 0.0;
    for cell in cells {
        let whole: f64 = cell.pieces.iter().map(|(_, e)| cell.row.k / e).sum();
        let capped = if whole > 0.0 {
            cell.hazard / whole
        } else {
            1.0
        };
        for (piece, e) in &cell.pieces {
            let (first, second) = moments(piece, table);
            let factor = capped / e;
            let (first, second) = (first * factor, second * factor * factor);
            mean += first;
            // Poisson: E w²; which class it is: E w² - (E w)².
            variance += 2.0 * second - first * first;
            one_more = one_more.max(second.sqrt());
        }
    }
    let lo = if mean > 0.0 && variance > 0.0 {
        variance / mean * gamma_quantile(mean * mean / variance, TAIL)
    } else {
        0.0
    };
    let mean_hi = mean + one_more;
    let variance_hi = variance + one_more * one_more;
    let hi = variance_hi / mean_hi * gamma_quantile(mean_hi * mean_hi / variance_hi, 1.0 - TAIL);
    Weighted { mean, lo, hi }
}

/// First and second moment of a piece's weight over its classes.
fn moments(piece: &ParticleSeen, table: &HazardTable) -> (f64, f64) {
    let mm = size_mm(piece, table, Size::Best);
    classes(piece)
        .into_iter()
        .map(|(class, p)| (p, table.debris_row(class, mm).map_or(0.0, |row| row.k)))
        .fold((0.0, 0.0), |(first, second), (p, k)| {
            (first + p * k, second + p * k * k)
        })
}

/// Probabilities that sum to 1. Where `class` is not the likeliest, somebody
/// corrected it, and it is certain.
pub(crate) fn classes(piece: &ParticleSeen) -> Vec<(DebrisClass, f64)> {
    let total: f64 = piece.p.values().sum();
    let own = piece.p.get(&piece.class).copied().unwrap_or(0.0);
    if total <= 0.0 || piece.p.values().any(|p| *p > own) {
        return vec![(piece.class, 1.0)];
    }
    piece
        .p
        .iter()
        .map(|(class, p)| (*class, p / total))
        .collect()
}
