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

use crate::count::{self, Size, size_mm};
use crate::exposure::Exposure;
use crate::hazard::{debris_hazard, observed_hazard, paste_hazard, paste_seen};
use crate::stats::gamma_quantile;
use crate::table::HazardTable;
use crate::{Evidence, ParticleSeen};

/// Each side's share of doubt: 5 %.
const TAIL: f64 = 0.05;

/// Lower and upper end of the hazard. An unknown distance counts by its ends.
pub(crate) fn interval(
    evidence: &Evidence,
    exposure: &Exposure,
    table: &HazardTable,
) -> (f64, f64) {
    let (longest, shortest) = exposure.ends(evidence, table);
    (
        lower(evidence, &longest, table),
        upper(evidence, &shortest, table),
    )
}

fn lower(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> f64 {
    let best = parts(evidence, exposure, table);
    let smaller = debris_hazard(evidence, exposure, table, Size::Lo);
    let counts = Counts::of(evidence, Size::Best, exposure, table);
    let below = [
        counts.mean - counts.lower(),
        best.debris - smaller,
        best.paste[0] - best.paste[1],
    ];
    let centre = counts.mean + best.paste[0] + best.observed;
    // The score counts each piece as its confirmed class, so it can lie outside
    // of what the machine's probabilities allow; the interval holds it anyway.
    (centre - root_sum_square(below))
        .max(best.observed)
        .min(best.sum())
}

fn upper(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> f64 {
    let best = parts(evidence, exposure, table);
    let larger = debris_hazard(evidence, exposure, table, Size::Hi);
    let counts = Counts::of(evidence, Size::Best, exposure, table);
    // Were all pieces larger, each would weigh more, and so would its doubt.
    let at_larger = Counts::of(evidence, Size::Hi, exposure, table);
    let above_counts = (counts.upper() - counts.mean).max(at_larger.upper() - at_larger.mean);
    let above = [
        above_counts,
        larger - best.debris,
        best.paste[2] - best.paste[0],
    ];
    let centre = counts.mean + best.paste[0] + best.observed;
    (centre + root_sum_square(above)).max(best.sum())
}

/// The hazard by what makes it doubtful.
struct Parts {
    debris: f64,
    /// Best value, lower and upper end.
    paste: [f64; 3],
    observed: f64,
}

impl Parts {
    fn sum(&self) -> f64 {
        self.debris + self.paste[0] + self.observed
    }
}

fn parts(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> Parts {
    Parts {
        debris: debris_hazard(evidence, exposure, table, Size::Best),
        paste: paste_seen(evidence, table).map_or([0.0; 3], |seen| {
            seen.cover
                .map(|cover| paste_hazard(&seen, cover, exposure, table))
        }),
        observed: observed_hazard(evidence, exposure, table),
    }
}

fn root_sum_square(half_widths: [f64; 3]) -> f64 {
    half_widths
        .iter()
        .map(|width| width.max(0.0).powi(2))
        .sum::<f64>()
        .sqrt()
}

/// The weighted sum of the counts.
struct Counts {
    mean: f64,
    variance: f64,
    /// What one more piece would weigh: the heaviest kind seen, or the table's
    /// small flake where none was.
    one_more: f64,
}

impl Counts {
    fn of(evidence: &Evidence, size: Size, exposure: &Exposure, table: &HazardTable) -> Counts {
        let mut counts = Counts {
            mean: 0.0,
            variance: 0.0,
            one_more: table.unseen.k / exposure.distance,
        };
        for cell in count::cells(&evidence.photos, exposure, table, size) {
            let whole: f64 = cell.pieces.iter().map(|(_, e)| cell.row.k / e).sum();
            let capped = if whole > 0.0 {
                cell.hazard / whole
            } else {
                1.0
            };
            for (piece, e) in &cell.pieces {
                let (first, second) = moments(piece, size, table);
                let factor = capped / e;
                let (first, second) = (first * factor, second * factor * factor);
                counts.mean += first;
                // Poisson: E w²; which class it is: E w² - (E w)².
                counts.variance += 2.0 * second - first * first;
                counts.one_more = counts.one_more.max(second.sqrt());
            }
        }
        counts
    }

    fn lower(&self) -> f64 {
        if self.mean <= 0.0 || self.variance <= 0.0 {
            return 0.0;
        }
        gamma_end(self.mean, self.variance, TAIL)
    }

    fn upper(&self) -> f64 {
        let more = self.one_more;
        gamma_end(self.mean + more, self.variance + more * more, 1.0 - TAIL)
    }
}

/// Quantile of the gamma distribution of that mean and variance.
fn gamma_end(mean: f64, variance: f64, p: f64) -> f64 {
    variance / mean * gamma_quantile(mean * mean / variance, p)
}

/// First and second moment of a piece's weight over its classes.
fn moments(piece: &ParticleSeen, size: Size, table: &HazardTable) -> (f64, f64) {
    let mm = size_mm(piece, table, size);
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
