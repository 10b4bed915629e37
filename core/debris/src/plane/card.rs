//! Finding the gauge card: rings that lie as its corners do, told apart and
//! confirmed by the print between them, then fitted to the print's edges.

use super::drawing::{CORNERS, RINGS, pattern};
use super::homography::Homography;
use super::pose::Pose;
use super::refine::refine;
use super::rings::{Ring, rings};
use crate::picture::{Upright, reduce};

/// The card in its place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Card {
    pub(crate) pose: Pose,
    /// Relative standard uncertainty of the scale at the picture's centre.
    pub(crate) u_rel: f64,
    /// Root mean square of the edges' distances from the drawing, px.
    pub(crate) rms_px: f64,
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
    let mut guesses: Vec<(f64, Homography)> = Vec::new();
    for_triples(rings, |a, b, d| {
        let affine = [
            a.centre,
            b.centre,
            [
                b.centre[0] + d.centre[0] - a.centre[0],
                b.centre[1] + d.centre[1] - a.centre[1],
            ],
            d.centre,
        ];
        let reach = 2.5 * a.radius.max(b.radius).max(d.radius);
        let fourth = rings
            .iter()
            .find(|r| distance(r.centre, affine[2]) < reach * 1.6);
        let corners = [
            affine[0],
            affine[1],
            fourth.map_or(affine[2], |r| r.centre),
            affine[3],
        ];
        if let Some(h) = Homography::from_four(&RINGS, &corners) {
            let bonus = if fourth.is_some() { 0.05 } else { 0.0 };
            guesses.push((likeness(picture, &h, &print) + bonus, h));
        }
    });
    guesses.sort_by(|a, b| b.0.total_cmp(&a.0));
    guesses
        .iter()
        .take(3)
        .filter(|g| g.0 > ENOUGH - 0.15)
        .find_map(|(_, h)| {
            let pose = Pose::from_homography(h, focal, centre)?;
            let card = refine(picture, pose, focal, u_focal)?;
            (likeness(picture, &card.pose.plane(0.0), &print) > ENOUGH).then_some(card)
        })
}

/// Ordered triples that can be top left, top right and bottom left.
fn for_triples(rings: &[Ring], mut f: impl FnMut(&Ring, &Ring, &Ring)) {
    // More would be a picture full of rings: keep the larger ones.
    let mut rings: Vec<&Ring> = rings.iter().collect();
    rings.sort_by(|a, b| b.radius.total_cmp(&a.radius));
    rings.truncate(40);
    for a in &rings {
        for b in &rings {
            let (ux, uy) = (b.centre[0] - a.centre[0], b.centre[1] - a.centre[1]);
            let u = ux.hypot(uy);
            // 75.6 mm apart, 2.5 mm radius: 30 radii, less or more by tilt.
            if !(15.0..50.0).contains(&(u / (0.5 * (a.radius + b.radius)))) {
                continue;
            }
            for d in &rings {
                let (vx, vy) = (d.centre[0] - a.centre[0], d.centre[1] - a.centre[1]);
                let v = vx.hypot(vy);
                let sine = (ux * vy - uy * vx) / (u * v);
                let sizes = d.radius / a.radius;
                // Clockwise as printed (y down), near a right angle, sides near 75.6 : 43.98.
                if sine > 0.80 && (1.1..2.7).contains(&(u / v)) && (0.5..2.0).contains(&sizes) {
                    f(a, b, d);
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
