//! Fitting the camera's pose to the edges of the card's print.

use super::card::Card;
use super::drawing::{PrintEdge, edges};
use super::pose::{Pose, UNKNOWNS};
use super::solve::solve;
use crate::picture::Upright;

/// How far from its expected place an edge is sought, mm, round by round.
const REACH_MM: [f64; 6] = [1.6, 1.0, 0.6, 0.5, 0.5, 0.5];
/// Least step of brightness over an edge.
const MIN_STEP: f64 = 18.0;
/// Least number of edges for a fit.
const MIN_EDGES: usize = 60;

/// An edge that lies this near to its place is where the drawing has it.
const NEAR_PX: f64 = 1.5;

/// A card as its edges show it.
pub(super) struct Fit {
    pub(super) card: Card,
    /// Edges of the drawing that are seen, and those of them that lie where they should.
    pub(super) seen: usize,
    pub(super) near: usize,
}

/// The pose that lays the drawing's edges over the picture's; `None` when too few are seen.
pub(super) fn refine(picture: &Upright, start: Pose, focal: f64, u_focal: f64) -> Option<Fit> {
    let edges = edges();
    let mut pose = start;
    let mut last = None;
    for reach in REACH_MM {
        let seen: Vec<(&PrintEdge, f64)> = edges
            .iter()
            .filter_map(|e| Some((e, offset(picture, &pose, e, reach)?)))
            .collect();
        if seen.len() < MIN_EDGES {
            return None;
        }
        let mut sizes: Vec<f64> = seen.iter().map(|s| s.1.abs()).collect();
        sizes.sort_by(f64::total_cmp);
        // Scale of the residuals (median absolute), with a floor so that a clean print keeps all its edges.
        let spread = (1.4826 * sizes[sizes.len() / 2]).max(0.1);
        let mut a = [[0.0; UNKNOWNS]; UNKNOWNS];
        let mut b = [0.0; UNKNOWNS];
        let (mut sum, mut weights) = (0.0, 0.0);
        for (edge, r) in &seen {
            let t = r / (3.0 * spread);
            if t.abs() >= 1.0 {
                continue;
            }
            let weight = (1.0 - t * t).powi(2);
            let j = slopes(&pose, edge);
            for k in 0..UNKNOWNS {
                for l in 0..UNKNOWNS {
                    a[k][l] += weight * j[k] * j[l];
                }
                b[k] += weight * j[k] * r;
            }
            sum += weight * r * r;
            weights += weight;
        }
        let variance = sum / (weights - UNKNOWNS as f64).max(1.0);
        // The focal length is known beforehand to `u_focal`: one more observation.
        let prior = variance.max(0.01) / (u_focal * u_focal);
        a[6][6] += prior;
        b[6] += prior * (focal / pose.focal).ln();
        let step = solve(a, b)?;
        pose = pose.stepped(&step);
        let near = seen.iter().filter(|(_, r)| r.abs() < NEAR_PX).count();
        last = Some((a, variance, seen.len(), near));
    }
    let (a, variance, seen, near) = last?;
    // Edges next to each other err together: count them as a third as many.
    let u_rel = scale_uncertainty(&pose, picture, &a, 3.0 * variance.max(0.0025))?;
    let card = Card { pose, u_rel };
    Some(Fit { card, seen, near })
}

/// Outward direction of an edge in the picture, unit length, and px per mm along it.
fn direction(pose: &Pose, e: &PrintEdge) -> ([f64; 2], [f64; 2], f64) {
    const D: f64 = 0.05;
    let p = pose.project(e.at, 0.0);
    // The normal of the projected edge, not the projection of the normal.
    let t = pose.project(
        [e.at[0] - D * e.outwards[1], e.at[1] + D * e.outwards[0]],
        0.0,
    );
    let (tx, ty) = (t[0] - p[0], t[1] - p[1]);
    let length = tx.hypot(ty).max(1e-9);
    // (out, tangent) are right-handed on the card and stay so in the picture.
    (p, [ty / length, -tx / length], length / D)
}

/// Signed distance from the expected edge to the seen one along the outward normal, px.
fn offset(picture: &Upright, pose: &Pose, e: &PrintEdge, reach_mm: f64) -> Option<f64> {
    const STEP: f64 = 0.5;
    let (p, n, px_per_mm) = direction(pose, e);
    let half = ((reach_mm * px_per_mm).clamp(2.5, 40.0) / STEP) as i32;
    let mut profile = [0.0; 2 * 80 + 1];
    let count = (2 * half + 1) as usize;
    let profile = profile.get_mut(..count)?;
    for (i, v) in profile.iter_mut().enumerate() {
        let s = f64::from(i as i32 - half) * STEP;
        *v = picture.luma_at([p[0] + n[0] * s, p[1] + n[1] * s])?;
    }
    // Rise over two pixels, centred.
    let rise = |i: usize| profile[i + 2] - profile[i - 2];
    let best = (2..count - 2).max_by(|&i, &j| rise(i).total_cmp(&rise(j)))?;
    if rise(best) < MIN_STEP {
        return None;
    }
    // Centre of the rise around its peak.
    let (mut sum, mut moment) = (0.0, 0.0);
    for i in best.saturating_sub(3).max(2)..=(best + 3).min(count - 3) {
        let r = rise(i).max(0.0);
        sum += r;
        moment += r * (i as f64 - best as f64);
    }
    Some((best as f64 + moment / sum - f64::from(half)) * STEP)
}

/// Change of the edge's place along its normal with each unknown, px.
fn slopes(pose: &Pose, e: &PrintEdge) -> [f64; UNKNOWNS] {
    const SIZES: [f64; UNKNOWNS] = [1e-5, 1e-5, 1e-5, 1e-3, 1e-3, 1e-3, 1e-5];
    let (_, n, _) = direction(pose, e);
    std::array::from_fn(|k| {
        let mut step = [0.0; UNKNOWNS];
        step[k] = SIZES[k];
        let plus = pose.stepped(&step).project(e.at, 0.0);
        step[k] = -SIZES[k];
        let minus = pose.stepped(&step).project(e.at, 0.0);
        ((plus[0] - minus[0]) * n[0] + (plus[1] - minus[1]) * n[1]) / (2.0 * SIZES[k])
    })
}

/// Relative standard uncertainty of the scale at the picture's centre, from the fit's covariance
/// and the print's own error (0.3 mm over the 60 mm ruler at most, taken as a uniform half-width).
fn scale_uncertainty(
    pose: &Pose,
    picture: &Upright,
    a: &[[f64; UNKNOWNS]; UNKNOWNS],
    variance: f64,
) -> Option<f64> {
    let centre = [picture.width as f64 / 2.0, picture.height as f64 / 2.0];
    let scale = |p: &Pose| -> Option<f64> {
        let back = p.plane(0.0).inverse()?;
        Some(back.local_scale(centre).ln())
    };
    let mut g = [0.0; UNKNOWNS];
    for (k, g) in g.iter_mut().enumerate() {
        let mut step = [0.0; UNKNOWNS];
        step[k] = 1e-5;
        let plus = scale(&pose.stepped(&step))?;
        step[k] = -1e-5;
        *g = (plus - scale(&pose.stepped(&step))?) / 2e-5;
    }
    let covariance_g = solve(*a, g)?;
    let fit: f64 = (0..UNKNOWNS).map(|k| g[k] * covariance_g[k]).sum::<f64>() * variance;
    let print = 0.3 / 60.0 / 3f64.sqrt();
    Some((fit.max(0.0) + print * print).sqrt())
}
