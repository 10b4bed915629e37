//! The same patch before and after a magnet was passed over it: what went is
//! iron or steel.

use std::collections::BTreeMap;

use swarfbook_job::census::{Census, DebrisClass};

use super::align::{Motion, NoFit, align, distance, pair_up};
use super::sheet::Sheet;

/// How surely a magnet takes a loose piece of steel (reasoned; no published source: one that oil
/// holds or that lies under another stays).
const TAKES: f64 = 0.95;
/// How well that is known: the share that stays may be half as large again or half as large.
const TAKES_DOUBT: f64 = 0.5;
/// A piece that a magnet did not take may be dragged this far by those that it took, mm (reasoned).
const DRAGGED_MM: f64 = 2.0;
/// Pieces missed of ten, before the photos themselves tell: some of the census' own misses on patches.
const MISSED: [f64; 2] = [1.0, 10.0];
/// Above this length pieces are missed less, mm.
const SMALL_MM: f64 = 0.5;
/// Beyond these the fate of a piece is told, between them it is left open.
const SURE: f64 = 0.8;

/// What became of a piece under the magnet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// It went: iron or steel.
    Went,
    /// It is still there.
    Stayed,
    /// What looks and magnet say do not agree, or it may have been missed.
    Unsure,
    /// The second photo does not show the place, or can't show a piece so small.
    Unseen,
}

/// A piece of the first photo after the magnet.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceFate {
    /// What became of it.
    pub fate: Fate,
    /// How likely it is iron or steel, from its looks and from the magnet.
    pub ferrous: f64,
    /// Its classes' probabilities with what the magnet says; as they were where it says nothing.
    pub p: BTreeMap<DebrisClass, f64>,
    /// Its partner in the second photo.
    pub partner: Option<usize>,
}

/// The difference of two photos of one patch.
#[derive(Debug, Clone, PartialEq)]
pub struct MagnetPair {
    /// From the plane of the photo before to that of the photo after.
    pub motion: Motion,
    /// Partners' places differ by this, root mean square, mm.
    pub rms_mm: f64,
    /// The pieces of the photo before, in its order.
    pub pieces: Vec<PieceFate>,
    /// Pieces that both photos could show, lint left out.
    pub seen: usize,
    /// Share of them that is iron or steel, by count, with the ends of its 90 % interval.
    pub ferrous: [f64; 3],
}

/// Holds the census of a patch before a magnet against the one after it.
pub fn after_magnet(before: &Census, after: &Census) -> Result<MagnetPair, NoFit> {
    let a = Sheet::of(before).ok_or(NoFit::NoScale)?;
    let b = Sheet::of(after).ok_or(NoFit::NoScale)?;
    let aligned = align(&a, &b)?;
    let motion = aligned.motion;
    let mut partner: Vec<Option<usize>> = vec![None; a.spots.len()];
    let near = aligned.partners.iter().copied();
    // Then those that were dragged along, and those whose outline was drawn otherwise.
    for (i, j) in near.chain(pair_up(&a, &b, &motion, DRAGGED_MM)) {
        if partner[i].is_none() && !partner.contains(&Some(j)) {
            partner[i] = Some(j);
        }
    }
    let covered = |i: usize| {
        let to = motion.apply(a.spots[i].at);
        b.spots
            .iter()
            .any(|q| q.feret_mm > a.spots[i].feret_mm && distance(to, q.at) < 0.5 * q.feret_mm)
    };
    let missed = [false, true].map(|large| missed_share(&a, &b, &motion, &partner, large));
    let mut doubt = [0.0; 3];
    let smallest = after.smallest_mm.unwrap_or(0.0);
    let pieces: Vec<PieceFate> = before
        .particles
        .iter()
        .enumerate()
        .map(|(i, particle)| {
            let spot = &a.spots[i];
            let steel = ferrous_of(&particle.p);
            let to = motion.apply(spot.at);
            let shown = b.sees(to, 0.5 * spot.feret_mm) && spot.feret_mm >= smallest;
            let large = usize::from(spot.feret_mm >= SMALL_MM);
            let (miss, miss_doubt) = missed[large];
            let open = |fate| PieceFate {
                fate,
                ferrous: steel,
                p: particle.p.clone(),
                partner: partner[i],
            };
            if partner[i].is_some() {
                let p = weighed(&particle.p, 1.0 - TAKES, 1.0 - miss);
                let ferrous = ferrous_of(&p);
                doubt[2] += TAKES_DOUBT * ferrous * (1.0 - ferrous);
                let fate = if ferrous <= 1.0 - SURE {
                    Fate::Stayed
                } else {
                    Fate::Unsure
                };
                PieceFate {
                    fate,
                    ferrous,
                    p,
                    partner: partner[i],
                }
            } else if !shown {
                open(Fate::Unseen)
            } else if covered(i) {
                open(Fate::Unsure)
            } else {
                // One that is not found again went, or is there and was missed.
                let p = weighed(&particle.p, TAKES + (1.0 - TAKES) * miss, miss);
                let ferrous = ferrous_of(&p);
                doubt[large] += miss_doubt * ferrous * (1.0 - ferrous);
                let fate = if ferrous >= SURE {
                    Fate::Went
                } else {
                    Fate::Unsure
                };
                PieceFate {
                    fate,
                    ferrous,
                    p,
                    partner: None,
                }
            }
        })
        .collect();
    let shares: Vec<f64> = pieces
        .iter()
        .zip(&before.particles)
        .filter(|(piece, particle)| piece.fate != Fate::Unseen && particle.class.counts())
        .map(|(piece, _)| piece.ferrous)
        .collect();
    Ok(MagnetPair {
        motion,
        rms_mm: aligned.rms_mm,
        seen: shares.len(),
        ferrous: share(&shares, doubt),
        pieces,
    })
}

/// A magnet puts nothing there: pieces of the photo after that the one before does not show tell how
/// many a photo misses, and how well that is known, as a share of it.
fn missed_share(
    a: &Sheet,
    b: &Sheet,
    motion: &Motion,
    partner: &[Option<usize>],
    large: bool,
) -> (f64, f64) {
    let back = motion.inverse();
    let size = |mm: f64| (mm >= SMALL_MM) == large;
    let (mut new, mut all) = (0.0, 0.0);
    for (j, spot) in b.spots.iter().enumerate() {
        if size(spot.feret_mm) && a.sees(back.apply(spot.at), 0.5 * spot.feret_mm) {
            all += 1.0;
            if !partner.contains(&Some(j)) {
                new += 1.0;
            }
        }
    }
    let all = all + MISSED[1];
    let miss = (new + MISSED[0]) / all;
    (miss, ((1.0 - miss) / (miss * (all + 1.0))).sqrt())
}

/// Iron or steel, by the classes.
fn ferrous_of(p: &BTreeMap<DebrisClass, f64>) -> f64 {
    let total: f64 = p.values().sum();
    let ferrous = p.iter().filter(|(class, _)| class.is_ferrous());
    if total > 0.0 {
        ferrous.map(|(_, p)| p).sum::<f64>() / total
    } else {
        0.0
    }
}

/// Bayes: each class by how likely what was seen is of steel and of anything else.
fn weighed(p: &BTreeMap<DebrisClass, f64>, steel: f64, other: f64) -> BTreeMap<DebrisClass, f64> {
    let by = |class: DebrisClass| if class.is_ferrous() { steel } else { other };
    let total: f64 = p.iter().map(|(class, p)| p * by(*class)).sum();
    if total <= 0.0 {
        return p.clone();
    }
    p.iter()
        .map(|(class, p)| (*class, p * by(*class) / total))
        .collect()
}

/// Mean, and the ends of its 90 % interval: the doubt about each piece, and the doubts that all of a
/// kind share, in pieces; half a piece at least.
fn share(ferrous: &[f64], doubt: [f64; 3]) -> [f64; 3] {
    let n = ferrous.len().max(1) as f64;
    let mean = ferrous.iter().sum::<f64>() / n;
    let own: f64 = ferrous.iter().map(|f| f * (1.0 - f)).sum();
    let shared: f64 = doubt.iter().map(|d| d * d).sum();
    let side = (1.645 * (own + shared).sqrt()).max(0.5) / n;
    [mean, (mean - side).max(0.0), (mean + side).min(1.0)]
}
