//! The surroundings of a magnet seen straight from above, in the plane of its face.

use crate::colour::{linear_between, linear_table};
use crate::picture::Upright;
use crate::plane::Homography;

/// Half a side of the sheet, mm.
const REACH_MM: f64 = 33.0;
/// Cells a mm: paste's grains are some 0.3 mm.
pub(crate) const PER_MM: f64 = 5.0;

/// Farthest that a magnet's foot is seen beside its face, mm along each axis.
const FOOT_MM: f64 = 8.0;

/// Half side of the square over which borders are sought, cells.
const BROAD: usize = 3;

/// ln of linear light, over a grid.
pub(crate) struct Sheet {
    pub(crate) side: usize,
    /// Green, averaged over a cell: as it is, to judge roughness by.
    pub(crate) fine: Vec<f32>,
    /// Red, green, blue over 1.4 mm, so that paste's grains are no borders.
    broad: [Vec<f32>; 3],
    /// Cells whose surroundings are all in the photo: its edge is no border of a face.
    seen: Vec<bool>,
    /// From a place of the face to where the ground straight below it is seen, mm: a magnet's sides
    /// show that far beyond its face.
    pub(crate) foot: [f64; 2],
}

impl Sheet {
    /// `subject` takes mm of the face's plane to px, `ground` the same mm straight below; `at` is where
    /// the face was tapped, px.
    pub(crate) fn new(
        picture: &Upright,
        subject: &Homography,
        ground: &Homography,
        at: [f64; 2],
    ) -> Option<Sheet> {
        let back = subject.inverse()?;
        let middle = back.apply(at);
        let below = back.apply(ground.apply(middle));
        // A side that shows farther than this would hide the face, or the height is wrong.
        let foot = [0, 1].map(|k| (below[k] - middle[k]).clamp(-FOOT_MM, FOOT_MM));
        let side = (2.0 * REACH_MM * PER_MM) as usize;
        let linear = linear_table();
        let mut raw: [Vec<f32>; 3] = std::array::from_fn(|_| Vec::with_capacity(side * side));
        let mut within = Vec::with_capacity(side * side);
        for j in 0..side {
            for i in 0..side {
                let mut seen = 1.0;
                let mm = [i, j].map(|v| (v as f64 + 0.5) / PER_MM - REACH_MM);
                // The mean of four places in the cell: noise, not paste, is averaged away.
                let mut sum = [0.0; 3];
                for (du, dv) in [(-0.25, -0.25), (0.25, -0.25), (-0.25, 0.25), (0.25, 0.25)] {
                    let p = [
                        middle[0] + mm[0] + du / PER_MM,
                        middle[1] + mm[1] + dv / PER_MM,
                    ];
                    let rgb = picture.rgb_at(subject.apply(p)).unwrap_or_else(|| {
                        seen = 0.0;
                        [0.0; 3]
                    });
                    sum = std::array::from_fn(|k| {
                        sum[k] + 0.25 * f64::from(linear_between(&linear, rgb[k]))
                    });
                }
                within.push(seen);
                for (plane, v) in raw.iter_mut().zip(sum) {
                    plane.push((v + 0.002).ln() as f32);
                }
            }
        }
        let broad = std::array::from_fn(|k| mean(&raw[k], side, BROAD));
        let seen = mean(&within, side, BROAD)
            .iter()
            .map(|v| *v > 0.999)
            .collect();
        let [_, fine, _] = raw;
        Some(Sheet {
            side,
            fine,
            broad,
            seen,
            foot,
        })
    }

    /// Place of a cell, mm from the tap.
    pub(crate) fn mm(&self, cell: usize) -> [f64; 2] {
        [cell % self.side, cell / self.side].map(|v| (v as f64 + 0.5) / PER_MM - REACH_MM)
    }

    fn cell(&self, mm: [f64; 2]) -> usize {
        let [i, j] =
            mm.map(|v| ((v + REACH_MM) * PER_MM).clamp(0.0, self.side as f64 - 1.0) as usize);
        j * self.side + i
    }

    /// How far two places differ, ln of light; nothing at the edge of the photo.
    pub(crate) fn apart(&self, a: [f64; 2], b: [f64; 2]) -> f64 {
        let (a, b) = (self.cell(a), self.cell(b));
        if !(self.seen[a] && self.seen[b]) {
            return 0.0;
        }
        let d = |k: usize| f64::from(self.broad[k][a] - self.broad[k][b]);
        ((d(0).powi(2) + d(1).powi(2) + d(2).powi(2)) / 3.0).sqrt()
    }
}

/// Mean over squares of half side `r` cells.
pub(crate) fn mean(plane: &[f32], side: usize, r: usize) -> Vec<f32> {
    let pass = |plane: &[f32], stride: usize, other: usize| {
        let mut out = vec![0.0; plane.len()];
        for line in 0..side {
            for i in 0..side {
                let (a, b) = (i.saturating_sub(r), (i + r + 1).min(side));
                let sum: f32 = (a..b).map(|k| plane[line * other + k * stride]).sum();
                out[line * other + i * stride] = sum / (b - a) as f32;
            }
        }
        out
    };
    pass(&pass(plane, 1, side), side, 1)
}
