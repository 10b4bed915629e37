//! Class probabilities calibrated to what a shop's technicians confirmed.
//!
//! `p` of a class becomes `p^(1/T) exp(b)`, and all are made to add up to one again: a temperature `T` and a bias `b`
//! a class (Guo et al., On Calibration of Modern Neural Networks, ICML 2017, section 4.2, with its biases). They are the
//! most likely ones given the pieces and a belief that nothing has to change, so that few pieces change little.

use std::collections::BTreeMap;

use swarfbook_job::census::{Calibration, Census, DebrisClass, Particle};

use crate::counts;
use crate::plane::solve;

const CLASSES: usize = DebrisClass::LEARNED.len();
const UNKNOWNS: usize = CLASSES + 1;

/// Fewer pieces teach nothing.
pub const LEAST_PIECES: usize = 100;

/// Standard deviations of the belief that 1 / T is one and each bias is none: of 0.07 to 0.5, with the third and the second
/// painter in view, see the README. Pieces of one photo are alike and teach less than their number, so it is narrow.
const SHARPNESS: f64 = 0.1;
const BIAS: f64 = 0.1;
/// 1 / T goes no farther.
const SHARPEST: std::ops::RangeInclusive<f64> = 0.3..=3.0;

/// A class that is not told has at least so much; the classes told lack what the others have together.
const LEAST: f64 = 1e-3;
/// Calibrated probabilities below this are not written.
const NEGLIGIBLE: f64 = 1e-3;

/// A piece with its probabilities, as the machine said them before any calibration, and what it is.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// The machine's probabilities of classes; those that are negligible may be missing.
    pub p: BTreeMap<DebrisClass, f64>,
    /// What the technician says that it is.
    pub class: DebrisClass,
}

/// Learns a calibration; `None` from too few pieces.
pub fn calibration(known: &[Known]) -> Option<Calibration> {
    // What the machine never says teaches nothing of how sure it is.
    let place = |class| DebrisClass::LEARNED.iter().position(|c| *c == class);
    let known: Vec<(&Known, usize)> = (known.iter())
        .filter_map(|piece| Some((piece, place(piece.class)?)))
        .collect();
    if known.len() < LEAST_PIECES {
        return None;
    }
    let lns: Vec<[f64; CLASSES]> = known.iter().map(|(piece, _)| lns(&piece.p)).collect();
    let classes: Vec<usize> = known.iter().map(|(_, class)| *class).collect();
    let fitted = fit(&lns, &classes)?;
    let (sharpness, bias) = fitted.split_first()?;
    Some(Calibration {
        temperature: 1.0 / sharpness,
        bias: DebrisClass::LEARNED
            .iter()
            .copied()
            .zip(bias.iter().copied())
            .collect(),
        pieces: u32::try_from(known.len()).unwrap_or(u32::MAX),
    })
}

/// The most likely 1 / T and biases: Newton's steps, halved until they help. The sum is convex, so that there is one.
fn fit(lns: &[[f64; CLASSES]], classes: &[usize]) -> Option<[f64; UNKNOWNS]> {
    let mut at = [0.0; UNKNOWNS];
    at[0] = 1.0;
    let mut cost = slope(lns, classes, &at).0;
    for _ in 0..50 {
        let (_, gradient, curve) = slope(lns, classes, &at);
        let step = solve(curve, gradient)?;
        let mut length = 1.0;
        let better = loop {
            let mut next = at;
            for (value, step) in next.iter_mut().zip(step) {
                *value -= length * step;
            }
            next[0] = next[0].clamp(*SHARPEST.start(), *SHARPEST.end());
            let there = slope(lns, classes, &next).0;
            if there < cost {
                break Some((next, there));
            }
            length /= 2.0;
            if length < 1e-6 {
                break None;
            }
        };
        let Some((next, there)) = better else {
            break;
        };
        let gained = cost - there;
        (at, cost) = (next, there);
        if gained < 1e-9 {
            break;
        }
    }
    Some(at)
}

type Slope = (f64, [f64; UNKNOWNS], [[f64; UNKNOWNS]; UNKNOWNS]);

/// Minus the logarithm of the likelihood and the belief, with its gradient and second derivatives.
fn slope(lns: &[[f64; CLASSES]], classes: &[usize], at: &[f64; UNKNOWNS]) -> Slope {
    let (mut cost, mut gradient) = (0.0, [0.0; UNKNOWNS]);
    let mut curve = [[0.0; UNKNOWNS]; UNKNOWNS];
    for k in 0..UNKNOWNS {
        let (off, spread) = if k == 0 {
            (at[0] - 1.0, SHARPNESS)
        } else {
            (at[k], BIAS)
        };
        cost += 0.5 * (off / spread).powi(2);
        gradient[k] = off / spread.powi(2);
        curve[k][k] = spread.powi(-2);
    }
    for (ln, class) in lns.iter().zip(classes) {
        let p = shares(std::array::from_fn(|k| at[0] * ln[k] + at[k + 1]));
        cost -= p[*class].max(f64::MIN_POSITIVE).ln();
        // Of each unknown: what it adds to each class's exponent.
        let adds = |unknown: usize, k: usize| match unknown {
            0 => ln[k],
            _ => f64::from(u8::from(unknown == k + 1)),
        };
        let mean: [f64; UNKNOWNS] =
            std::array::from_fn(|u| (0..CLASSES).map(|k| p[k] * adds(u, k)).sum());
        for u in 0..UNKNOWNS {
            gradient[u] += mean[u] - adds(u, *class);
            for v in 0..UNKNOWNS {
                let both: f64 = (0..CLASSES).map(|k| p[k] * adds(u, k) * adds(v, k)).sum();
                curve[u][v] += both - mean[u] * mean[v];
            }
        }
    }
    (cost, gradient, curve)
}

/// Shares whose logarithms these are, but for a sum.
fn shares(exponents: [f64; CLASSES]) -> [f64; CLASSES] {
    let most = exponents.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let all = exponents.map(|e| (e - most).exp());
    let sum: f64 = all.iter().sum();
    all.map(|v| v / sum)
}

/// Logarithms of all that were learned: what the told ones leave is shared by the others.
fn lns(p: &BTreeMap<DebrisClass, f64>) -> [f64; CLASSES] {
    let told: f64 = p.values().sum();
    let untold = DebrisClass::LEARNED.iter().filter(|c| !p.contains_key(c));
    let each = ((1.0 - told) / untold.count().max(1) as f64).max(LEAST);
    DebrisClass::LEARNED.map(|class| p.get(&class).copied().unwrap_or(each).max(LEAST).ln())
}

/// Probabilities as calibrated.
pub fn calibrated_p(
    p: &BTreeMap<DebrisClass, f64>,
    by: &Calibration,
) -> BTreeMap<DebrisClass, f64> {
    let ln = lns(p);
    let exponents = std::array::from_fn(|k| ln[k] / by.temperature + bias(by, k));
    told(shares(exponents))
}

/// What the machine said before it was calibrated.
pub fn before_calibration(
    p: &BTreeMap<DebrisClass, f64>,
    by: &Calibration,
) -> BTreeMap<DebrisClass, f64> {
    let ln = lns(p);
    let exponents = std::array::from_fn(|k| (ln[k] - bias(by, k)) * by.temperature);
    told(shares(exponents))
}

fn bias(by: &Calibration, class: usize) -> f64 {
    let class = DebrisClass::LEARNED.get(class);
    class
        .and_then(|class| by.bias.get(class))
        .copied()
        .unwrap_or(0.0)
}

fn told(shares: [f64; CLASSES]) -> BTreeMap<DebrisClass, f64> {
    let all = DebrisClass::LEARNED.into_iter().zip(shares);
    all.filter(|(_, p)| *p >= NEGLIGIBLE).collect()
}

/// A census whose class probabilities are calibrated: classes and counts follow, outlines and sizes stay, and so does
/// whether a thing is a piece at all.
pub fn calibrated(census: Census, by: &Calibration) -> Census {
    let particles: Vec<Particle> = (census.particles.into_iter())
        .map(|mut piece| {
            piece.p = calibrated_p(&piece.p, by);
            let likeliest = piece.p.iter().max_by(|a, b| a.1.total_cmp(b.1));
            piece.class = likeliest.map_or(piece.class, |(class, _)| *class);
            piece
        })
        .collect();
    Census {
        counts: counts::count(&particles),
        particles,
        calibration: Some(by.clone()),
        ..census
    }
}
