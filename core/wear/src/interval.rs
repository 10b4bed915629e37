//! The 90 % interval of the hazard, in closed form.
//!
//! Counts: a weighted sum of Poisson counts by the gamma method of Fay and
//! Feuer (1997, from memory), which is Garwood's exact interval when all weights
//! are equal. The doubt about a piece's class adds its variance. The sizes move
//! together (one scale), so their ends give one half width each way; so does the
//! magnet's cover. Half widths of independent parts add in squares (method of
//! variance estimates recovery). What counts as a group is worked out for itself and
//! held at the group's cap first. The weights themselves are judgement; the interval
//! does not hold the doubt about them.

use swarfbook_job::census::DebrisClass;

use crate::count::{Size, Weighing, size_mm};
use crate::exposure::Exposure;
use crate::hazard::{cap, observed_hazard, paste_hazard, paste_seen};
use crate::named::Names;
use crate::stats::gamma_quantile;
use crate::table::{Group, HazardTable};
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
    let names = Names::of(evidence, exposure, table);
    let own = Part::of(evidence, &names, None, exposure, table);
    let groups = Group::ALL.map(|group| {
        let part = Part::of(evidence, &names, Some(group), exposure, table);
        (part, cap(group, exposure, table))
    });
    let mut centre = own.centre();
    let mut best = own.best();
    let mut widths = own.below().to_vec();
    for (part, cap) in &groups {
        centre += part.centre().min(*cap);
        best += part.best().min(*cap);
        let low = (part.centre() - root_sum_square(&part.below())).max(part.observed);
        widths.push(part.centre().min(*cap) - low.min(*cap));
    }
    // The score counts each piece as its confirmed class, so it can lie outside
    // of what the machine's probabilities allow; the interval holds it anyway.
    (centre - root_sum_square(&widths))
        .max(own.observed)
        .min(best)
}

fn upper(evidence: &Evidence, exposure: &Exposure, table: &HazardTable) -> f64 {
    let names = Names::of(evidence, exposure, table);
    let own = Part::of(evidence, &names, None, exposure, table);
    let mut centre = own.centre();
    let mut best = own.best();
    let mut widths = own.above().to_vec();
    for group in Group::ALL {
        let part = Part::of(evidence, &names, Some(group), exposure, table);
        let cap = cap(group, exposure, table);
        centre += part.centre().min(cap);
        best += part.best().min(cap);
        let high = part.centre() + root_sum_square(&part.above());
        widths.push(high.min(cap) - part.centre().min(cap));
    }
    (centre + root_sum_square(&widths)).max(best)
}

/// The hazard of one group, or of what counts on its own, by what makes it doubtful.
struct Part {
    /// The pieces as their confirmed classes.
    debris: f64,
    /// The same, were all pieces as small or as large as they can be.
    smaller: f64,
    larger: f64,
    counts: Counts,
    /// The counts, were all pieces larger: each would weigh more, and so would its doubt.
    counts_larger: Counts,
    /// Best value, lower and upper end.
    paste: [f64; 3],
    observed: f64,
}

impl Part {
    fn of(
        evidence: &Evidence,
        names: &Names,
        group: Option<Group>,
        exposure: &Exposure,
        table: &HazardTable,
    ) -> Part {
        let weighing = Weighing {
            evidence,
            exposure,
            table,
            taken: &names.taken,
        };
        let debris = |size| -> f64 {
            let cells = weighing.cells(size);
            let own = cells.iter().filter(|cell| cell.weight.group == group);
            own.map(|cell| cell.hazard).sum()
        };
        let paste = match group {
            Some(Group::Age) => paste_seen(evidence, table).map_or([0.0; 3], |seen| {
                seen.cover
                    .map(|cover| paste_hazard(evidence, &seen, cover, exposure, table))
            }),
            _ => [0.0; 3],
        };
        Part {
            debris: debris(Size::Best),
            smaller: debris(Size::Lo),
            larger: debris(Size::Hi),
            counts: Counts::of(&weighing, group, Size::Best),
            counts_larger: Counts::of(&weighing, group, Size::Hi),
            paste,
            observed: observed_hazard(evidence, names, group, exposure, table),
        }
    }

    fn best(&self) -> f64 {
        self.debris + self.paste[0] + self.observed
    }

    fn centre(&self) -> f64 {
        self.counts.mean + self.paste[0] + self.observed
    }

    fn below(&self) -> [f64; 3] {
        [
            self.counts.mean - self.counts.lower(),
            self.debris - self.smaller,
            self.paste[0] - self.paste[1],
        ]
    }

    fn above(&self) -> [f64; 3] {
        let counts = self.counts.upper() - self.counts.mean;
        let larger = self.counts_larger.upper() - self.counts_larger.mean;
        [
            counts.max(larger),
            self.larger - self.debris,
            self.paste[2] - self.paste[0],
        ]
    }
}

fn root_sum_square(half_widths: &[f64]) -> f64 {
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
    /// small flake where none was. None in a group: it would stand among the others.
    one_more: f64,
}

impl Counts {
    fn of(weighing: &Weighing, group: Option<Group>, size: Size) -> Counts {
        let mut counts = Counts {
            mean: 0.0,
            variance: 0.0,
            one_more: match group {
                None => weighing.table.unseen.k / weighing.exposure.distance,
                Some(_) => 0.0,
            },
        };
        let cells = weighing.cells(size);
        for cell in cells.iter().filter(|cell| cell.weight.group == group) {
            let whole: f64 = cell.pieces.iter().map(|(_, e)| cell.weight.k / e).sum();
            let capped = if whole > 0.0 {
                cell.hazard / whole
            } else {
                1.0
            };
            for (piece, e) in &cell.pieces {
                let (first, second) = moments(piece, size, weighing);
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
        if more <= 0.0 {
            return self.mean;
        }
        gamma_end(self.mean + more, self.variance + more * more, 1.0 - TAIL)
    }
}

/// Quantile of the gamma distribution of that mean and variance.
fn gamma_end(mean: f64, variance: f64, p: f64) -> f64 {
    variance / mean * gamma_quantile(mean * mean / variance, p)
}

/// First and second moment of a piece's weight over its classes.
fn moments(piece: &ParticleSeen, size: Size, weighing: &Weighing) -> (f64, f64) {
    let mm = size_mm(piece, weighing.table, size);
    let weight = |class| weighing.weight(piece, class, mm).map_or(0.0, |row| row.k);
    classes(piece)
        .into_iter()
        .map(|(class, p)| (p, weight(class)))
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
