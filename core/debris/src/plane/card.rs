//! Finding the gauge card: rings that lie as its corners do, fitted to the print's edges and
//! confirmed by how bright the print is, or by its edges where glare lies over it.

use super::drawing::{CORNERS, RINGS, pattern};
use super::homography::Homography;
use super::pose::{Pose, UNKNOWNS};
use super::refine::{Fit, refine};
use super::rings::{Ring, rings};
use super::solve::solve;
use crate::picture::{Upright, reduce};

/// The card in its place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Card {
    pub(crate) pose: Pose,
    /// Relative standard uncertainty of the scale at the picture's centre.
    pub(crate) u_rel: f64,
}

impl Card {
    /// The outline's corners as seen.
    pub(crate) fn corners_px(&self) -> [[f64; 2]; 4] {
        CORNERS.map(|mm| self.pose.project(mm, 0.0))
    }
}

/// Longer side of a phone's picture over its focal length: 24 to 28 mm as for
/// 36 x 24 mm are what main cameras have (common practice, no published source).
const FOCAL_OVER_SIDE: f64 = 27.0 / 36.0;

/// Least correlation of the print with the drawing.
const ENOUGH: f64 = 0.80;
/// Guesses that are fitted, the likest first: a bent card is unlike any flat one until it is fitted.
const FITTED: usize = 12;
/// Under glare tones say little, but an edge stays where it is: that many of the drawing's 372, and that share of those
/// seen within 1.5 px of it. A card in glare that was turned by half showed 145 of 156, one a corner off 49 of 208;
/// the right one 182 of 185.
const EDGES: usize = 165;
const EDGES_NEAR: f64 = 0.9;

/// Looks for the card at two sizes; the coarser one finds it in most photos.
pub(crate) fn find(picture: &Upright) -> Option<Card> {
    let side = picture.width.max(picture.height);
    let coarse = (side / 800).max(1);
    [coarse, coarse.div_ceil(2)].into_iter().find_map(|step| {
        let small = reduce(picture, step);
        find_among(picture, &rings(&small))
    })
}

fn find_among(picture: &Upright, rings: &[Ring]) -> Option<Card> {
    let side = picture.width.max(picture.height) as f64;
    let centre = [picture.width as f64 / 2.0, picture.height as f64 / 2.0];
    let from_file = picture.focal_35mm.map(|mm| mm / 36.0 * side);
    let focal = from_file.unwrap_or(FOCAL_OVER_SIDE * side);
    // What the file says is rounded to a millimetre, a guess is good to a tenth.
    let u_focal = if from_file.is_some() { 0.04 } else { 0.08 };
    let print = pattern();
    let mut guesses: Vec<(f64, Pose)> = Vec::new();
    for_triples(rings, |a, b, d, first| {
        let opposite = [0, 1].map(|c| b.centre[c] + d.centre[c] - a.centre[c]);
        let reach = 4.0 * a.radius.max(b.radius).max(d.radius);
        let fourth = rings.iter().find(|r| distance(r.centre, opposite) < reach);
        // Which corner the right angle is at: one of two, the card may lie turned.
        for k in [first, first + 2] {
            let mut corners = [[0.0; 2]; 4];
            corners[k % 4] = a.centre;
            corners[(k + 1) % 4] = b.centre;
            corners[(k + 2) % 4] = fourth.map_or(opposite, |r| r.centre);
            corners[(k + 3) % 4] = d.centre;
            let level = Homography::from_four(&RINGS, &corners)
                .and_then(|h| Pose::from_homography(&h, focal, centre));
            let Some(level) = level else { continue };
            if fourth.is_some() {
                guesses.push((likeness(picture, &level.plane(0.0), &print) + 0.05, level));
                continue;
            }
            // Three points leave the tilt in doubt: try both ways about both axes.
            let three = [k % 4, (k + 1) % 4, (k + 3) % 4].map(|i| (RINGS[i], corners[i]));
            for (x, y) in [(0.0, 0.0), (0.3, 0.0), (-0.3, 0.0), (0.0, 0.3), (0.0, -0.3)] {
                let start = level.stepped(&[x, y, 0.0, 0.0, 0.0, 0.0, 0.0]);
                if let Some(pose) = through_three(start, &three) {
                    guesses.push((likeness(picture, &pose.plane(0.0), &print), pose));
                }
            }
        }
    });
    let mut by_edges: Option<Fit> = None;
    for pose in likest(guesses) {
        let Some(fit) = refine(picture, pose, focal, u_focal) else {
            continue;
        };
        if likeness(picture, &fit.card.pose.plane(0.0), &print) > ENOUGH {
            return Some(fit.card);
        }
        let sure = fit.near >= EDGES && fit.near as f64 >= EDGES_NEAR * fit.seen as f64;
        if sure && by_edges.as_ref().is_none_or(|other| fit.near > other.near) {
            by_edges = Some(fit);
        }
    }
    by_edges.map(|fit| fit.card)
}

/// The likest guesses, those left out that lie as one of them does.
fn likest(mut guesses: Vec<(f64, Pose)>) -> Vec<Pose> {
    guesses.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut apart: Vec<Pose> = Vec::new();
    for (_, pose) in guesses {
        let lies_as = |other: &Pose| {
            RINGS
                .iter()
                .all(|mm| distance(other.project(*mm, 0.0), pose.project(*mm, 0.0)) < 8.0)
        };
        if !apart.iter().any(lies_as) {
            apart.push(pose);
            if apart.len() == FITTED {
                break;
            }
        }
    }
    apart
}

/// The pose that puts three points of the card where they are seen, the focal length kept.
fn through_three(mut pose: Pose, points: &[([f64; 2], [f64; 2]); 3]) -> Option<Pose> {
    const SMALL: f64 = 1e-5;
    for _ in 0..12 {
        let mut a = [[0.0; 6]; 6];
        let mut b = [0.0; 6];
        for (i, (mm, px)) in points.iter().enumerate() {
            let now = pose.project(*mm, 0.0);
            for axis in 0..2 {
                b[2 * i + axis] = px[axis] - now[axis];
            }
            for k in 0..6 {
                let mut step = [0.0; UNKNOWNS];
                step[k] = SMALL;
                let then = pose.stepped(&step).project(*mm, 0.0);
                for axis in 0..2 {
                    a[2 * i + axis][k] = (then[axis] - now[axis]) / SMALL;
                }
            }
        }
        let s = solve(a, b)?;
        // Long steps are cut: far from the answer the slopes mislead.
        let turn = (s[0] * s[0] + s[1] * s[1] + s[2] * s[2]).sqrt();
        let cut = (0.3 / turn.max(1e-12)).min(1.0);
        pose = pose.stepped(&[s[0], s[1], s[2], s[3], s[4], s[5], 0.0].map(|v| v * cut));
    }
    let near = points
        .iter()
        .all(|(mm, px)| distance(pose.project(*mm, 0.0), *px) < 2.0);
    near.then_some(pose)
}

/// Ordered triples that can be a corner, the next and the one before it, clockwise; and whether
/// that corner is the first or the second of the drawing (or the one opposite).
fn for_triples(rings: &[Ring], mut f: impl FnMut(&Ring, &Ring, &Ring, usize)) {
    // More would be a picture full of rings: keep the larger ones.
    let mut rings: Vec<&Ring> = rings.iter().collect();
    rings.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    rings.truncate(24);
    for a in &rings {
        for b in &rings {
            let (ux, uy) = (b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]);
            let u = ux.hypot(uy);
            // 75.6 or 43.98 mm apart at 2.5 mm radius: 30 or 18 radii, less or more by tilt.
            if !(10.0..50.0).contains(&(u / (0.5 * (a.radius + b.radius)))) {
                continue;
            }
            for d in &rings {
                let (vx, vy) = (d.centre[0] - a.centre[0], d.centre[1] - a.centre[1]);
                let v = vx.hypot(vy);
                let sine = (ux * vy - uy * vx) / (u * v);
                let alike = (0.5..2.0).contains(&(d.radius / a.radius));
                let sides = u / v;
                // Clockwise (y down), near a right angle, sides near 75.6 : 43.98.
                if alike && sine > 0.75 && (1.1..2.7).contains(&sides) {
                    f(a, b, d, 0);
                } else if alike && sine > 0.75 && (1.1..2.7).contains(&(1.0 / sides)) {
                    f(a, b, d, 1);
                }
            }
        }
    }
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// Correlation of what is seen with what is printed; -1 when too little of it is in the picture.
fn likeness(picture: &Upright, h: &Homography, print: &[([f64; 2], f64)]) -> f64 {
    let pairs: Vec<(f64, f64)> = print
        .iter()
        .filter_map(|(mm, v)| Some((picture.luma_at(h.apply(*mm))?, *v)))
        .collect();
    if pairs.len() * 10 < print.len() * 6 {
        return -1.0;
    }
    let n = pairs.len() as f64;
    let (mx, my) = pairs
        .iter()
        .fold((0.0, 0.0), |s, p| (s.0 + p.0 / n, s.1 + p.1 / n));
    let (mut xx, mut yy, mut xy) = (1e-9, 1e-9, 0.0);
    for (x, y) in pairs {
        xx += (x - mx).powi(2);
        yy += (y - my).powi(2);
        xy += (x - mx) * (y - my);
    }
    xy / (xx * yy).sqrt()
}
