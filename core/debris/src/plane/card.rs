//! Finding the gauge card: rings that lie as its corners do, fitted to the print's edges and
//! confirmed by how bright the print is, or by its edges where glare lies over it.

use std::cell::LazyCell;

use super::drawing::{CORNERS, RING_RADII, RINGS, pattern};
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
/// Of a card that shows two rings alone, beside its tones.
const EDGES_OF_A_PART: usize = 100;
/// Least correlation of a guess by two rings: a fit mends the tilt, not another place.
const WORTH_FITTING: f64 = 0.4;

impl Fit {
    /// Whether nearly all edges that are seen lie where they should.
    fn lies_well(&self) -> bool {
        self.near as f64 >= EDGES_NEAR * self.seen as f64
    }
}

/// Looks for the card at two sizes; the coarser one finds it in most photos. Where too few of its rings are whole,
/// two of them are enough if the rest of what is seen agrees.
pub(crate) fn find(picture: &Upright) -> Option<Card> {
    let side = picture.width.max(picture.height);
    let coarse = (side / 800).max(1);
    let sought = Sought::in_picture(picture);
    let seen = [coarse, coarse.div_ceil(2)]
        .map(|step| LazyCell::new(move || rings(&reduce(picture, step))));
    let by_three = seen.iter().find_map(|seen| sought.by_three(seen));
    by_three.or_else(|| seen.iter().find_map(|seen| sought.by_two(seen)))
}

/// What is known before a card is looked for.
struct Sought<'a> {
    picture: &'a Upright,
    print: Vec<([f64; 2], f64)>,
    centre: [f64; 2],
    focal: f64,
    u_focal: f64,
}

impl Sought<'_> {
    fn in_picture(picture: &Upright) -> Sought<'_> {
        let side = picture.width.max(picture.height) as f64;
        let from_file = picture.focal_35mm().map(|mm| mm / 36.0 * side);
        Sought {
            picture,
            print: pattern(),
            centre: [picture.width as f64 / 2.0, picture.height as f64 / 2.0],
            focal: from_file.unwrap_or(FOCAL_OVER_SIDE * side),
            // What the file says is rounded to a millimetre, a guess is good to a tenth.
            u_focal: if from_file.is_some() { 0.04 } else { 0.08 },
        }
    }

    /// How the print's tones lie under a pose.
    fn likeness(&self, pose: &Pose) -> f64 {
        likeness(self.picture, &pose.plane(0.0), &self.print)
    }

    fn refined(&self, pose: Pose) -> Option<Fit> {
        refine(self.picture, pose, self.focal, self.u_focal)
    }

    /// By three rings or four.
    fn by_three(&self, rings: &[Ring]) -> Option<Card> {
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
                    .and_then(|h| Pose::from_homography(&h, self.focal, self.centre));
                let Some(level) = level else { continue };
                if fourth.is_some() {
                    guesses.push((self.likeness(&level) + 0.05, level));
                    continue;
                }
                // Three points leave the tilt in doubt.
                let three = [k % 4, (k + 1) % 4, (k + 3) % 4].map(|i| (RINGS[i], corners[i]));
                for pose in
                    tilts(level).filter_map(|start| through(start, &three, [0, 1, 2, 3, 4, 5]))
                {
                    guesses.push((self.likeness(&pose), pose));
                }
            }
        });
        let mut by_edges: Option<Fit> = None;
        for pose in likest(guesses) {
            let Some(fit) = self.refined(pose) else {
                continue;
            };
            if self.likeness(&fit.card.pose) > ENOUGH {
                return Some(fit.card);
            }
            let sure = fit.near >= EDGES && fit.lies_well();
            if sure && by_edges.as_ref().is_none_or(|other| fit.near > other.near) {
                by_edges = Some(fit);
            }
        }
        by_edges.map(|fit| fit.card)
    }

    /// By two rings, of a card that is partly outside or covered. So little is confirmed by tones and by edges.
    fn by_two(&self, rings: &[Ring]) -> Option<Card> {
        let mut guesses: Vec<(f64, Pose)> = Vec::new();
        for_pairs(rings, |seen, corners| {
            let level = Homography::level(corners.map(|k| RINGS[k]), seen)
                .and_then(|h| Pose::from_homography(&h, self.focal, self.centre));
            let Some(level) = level else { return };
            let two = [0, 1].map(|i| (RINGS[corners[i]], seen[i]));
            // Tilts stay as they are guessed: two points give a turn and a place.
            for pose in tilts(level).filter_map(|start| through(start, &two, [2, 3, 4, 5])) {
                guesses.push((self.likeness(&pose), pose));
            }
        });
        guesses.retain(|(likeness, _)| *likeness > WORTH_FITTING);
        likest(guesses).into_iter().find_map(|pose| {
            let fit = self.refined(pose)?;
            let sure = fit.near >= EDGES_OF_A_PART && fit.lies_well();
            (sure && self.likeness(&fit.card.pose) > ENOUGH).then_some(fit.card)
        })
    }
}

/// A level pose, and the same tilted both ways about both axes.
fn tilts(level: Pose) -> impl Iterator<Item = Pose> {
    [(0.0, 0.0), (0.3, 0.0), (-0.3, 0.0), (0.0, 0.3), (0.0, -0.3)]
        .into_iter()
        .map(move |(x, y)| level.stepped(&[x, y, 0.0, 0.0, 0.0, 0.0, 0.0]))
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

/// The pose that puts points of the card where they are seen, by the unknowns named; two for each point.
fn through<const N: usize>(
    mut pose: Pose,
    points: &[([f64; 2], [f64; 2])],
    unknowns: [usize; N],
) -> Option<Pose> {
    const SMALL: f64 = 1e-5;
    for _ in 0..12 {
        let mut a = [[0.0; N]; N];
        let mut b = [0.0; N];
        for (i, (mm, px)) in points.iter().enumerate() {
            let now = pose.project(*mm, 0.0);
            for axis in 0..2 {
                b[2 * i + axis] = px[axis] - now[axis];
            }
            for (column, unknown) in unknowns.iter().enumerate() {
                let mut step = [0.0; UNKNOWNS];
                step[*unknown] = SMALL;
                let then = pose.stepped(&step).project(*mm, 0.0);
                for axis in 0..2 {
                    a[2 * i + axis][column] = (then[axis] - now[axis]) / SMALL;
                }
            }
        }
        let solved = solve(a, b)?;
        let mut step = [0.0; UNKNOWNS];
        for (unknown, by) in unknowns.iter().zip(solved) {
            step[*unknown] = by;
        }
        // Long steps are cut: far from the answer the slopes mislead.
        let turn = (step[0] * step[0] + step[1] * step[1] + step[2] * step[2]).sqrt();
        let cut = (0.3 / turn.max(1e-12)).min(1.0);
        pose = pose.stepped(&step.map(|v| v * cut));
    }
    let near = points
        .iter()
        .all(|(mm, px)| distance(pose.project(*mm, 0.0), *px) < 2.0);
    near.then_some(pose)
}

/// Pairs of rings as two corners of the card, each way that their distance allows.
fn for_pairs(rings: &[Ring], mut f: impl FnMut([[f64; 2]; 2], [usize; 2])) {
    for a in larger(rings, 12) {
        for b in larger(rings, 12) {
            let radius = 0.5 * (a.radius + b.radius);
            let apart = distance(a.centre, b.centre) / radius;
            if !(0.6..1.7).contains(&(a.radius / b.radius)) {
                continue;
            }
            for (i, j) in (0..4)
                .flat_map(|i| (0..4).map(move |j| (i, j)))
                .filter(|(i, j)| i != j)
            {
                let printed = distance(RINGS[i], RINGS[j]) / RING_RADII[0];
                if (0.7..1.4).contains(&(apart / printed)) {
                    f([a.centre, b.centre], [i, j]);
                }
            }
        }
    }
}

/// The larger ones: more would be a picture full of rings.
fn larger(rings: &[Ring], most: usize) -> Vec<&Ring> {
    let mut rings: Vec<&Ring> = rings.iter().collect();
    rings.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    rings.truncate(most);
    rings
}

/// Ordered triples that can be a corner, the next and the one before it, clockwise; and whether
/// that corner is the first or the second of the drawing (or the one opposite).
fn for_triples(rings: &[Ring], mut f: impl FnMut(&Ring, &Ring, &Ring, usize)) {
    let rings = larger(rings, 24);
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
