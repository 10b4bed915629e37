//! Where a piece ends: of several readings of the difference (all of it, only
//! what is brighter than the ground, only what is darker) at several levels,
//! the one whose border is steepest. A shadow's border is soft, a piece's is not.

use crate::find::label::{Component, components_of};

use super::mask::close;

/// Levels that are tried, of the difference that a tenth of the piece exceeds.
const LEVELS: [f32; 6] = [0.30, 0.42, 0.54, 0.66, 0.78, 0.88];
/// A reading is tried when at least this share of the candidate's difference is in it.
const LEAST_SHARE: f32 = 0.25;
/// How much a larger piece is preferred: a flake's streaks are steep too, but small.
const SIZE_POWER: f64 = 0.4;
/// Least area of a part, px: fewer tell nothing of a shape.
const LEAST_PX: u64 = 6;

/// A reading of a candidate.
#[derive(Debug)]
pub(crate) struct Level {
    /// The difference that was read.
    pub(crate) distance: Vec<f32>,
    /// The level that borders lie at.
    pub(crate) level: f32,
    /// What a tenth of the piece exceeds.
    pub(crate) contrast: f32,
    /// The parts above it.
    pub(crate) parts: Vec<Component>,
}

/// The best reading of a candidate. `signed` is the difference, negative where darker than the
/// ground; `inside` are the candidate's own pixels; gaps up to `2 gap` px are closed.
pub(crate) fn best_level(
    signed: &[f32],
    inside: &[usize],
    width: usize,
    gap: usize,
) -> Option<Level> {
    let total: f32 = inside.iter().map(|at| signed[*at].abs()).sum();
    let readings: [fn(f32) -> f32; 3] = [f32::abs, |d| d.max(0.0), |d| (-d).max(0.0)];
    let mut best: Option<(f64, Level)> = None;
    for (k, reading) in readings.iter().enumerate() {
        let mut values: Vec<f32> = inside.iter().map(|at| reading(signed[*at])).collect();
        let share = values.iter().sum::<f32>() / total.max(1e-9);
        if values.is_empty() || (k > 0 && !(LEAST_SHARE..0.98).contains(&share)) {
            continue;
        }
        let at = values.len() * 9 / 10;
        let contrast = *values.select_nth_unstable_by(at, f32::total_cmp).1;
        let distance: Vec<f32> = signed.iter().map(|d| reading(*d)).collect();
        for factor in LEVELS {
            let level = contrast * factor;
            let mut mask: Vec<u8> = distance.iter().map(|d| u8::from(*d > level)).collect();
            close(&mut mask, width, gap);
            let mut parts = components_of(&mask, width);
            let largest = parts.iter().map(|p| p.area).max().unwrap_or(0);
            parts.retain(|p| {
                p.area >= LEAST_PX && p.area * 8 >= largest && touches(p, &mask, inside, width)
            });
            let area: u64 = parts.iter().map(|p| p.area).sum();
            if area == 0 {
                continue;
            }
            let steep = f64::from(steepness(&parts, &mask, &distance, width));
            let score = steep * (area as f64).powf(SIZE_POWER);
            if best.as_ref().is_none_or(|b| score > b.0) {
                let distance = distance.clone();
                best = Some((
                    score,
                    Level {
                        distance,
                        level,
                        contrast,
                        parts,
                    },
                ));
            }
        }
    }
    best.map(|b| b.1)
}

/// Whether a part holds a pixel of the candidate.
fn touches(part: &Component, mask: &[u8], inside: &[usize], width: usize) -> bool {
    inside.iter().any(|at| {
        let (x, y) = ((at % width) as u32, (at / width) as u32);
        mask[*at] != 0
            && (part.x0..part.x1).contains(&x)
            && (part.y0..part.y1).contains(&y)
            && part
                .runs
                .iter()
                .any(|r| r.y == y && (r.x0..r.x1).contains(&x))
    })
}

/// Mean fall from one pixel inside the border to one outside, over the parts' outer borders.
fn steepness(parts: &[Component], mask: &[u8], distance: &[f32], width: usize) -> f32 {
    let (mut sum, mut count) = (0.0, 0.0);
    let lines = mask.len() / width;
    for r in parts.iter().flat_map(|p| &p.runs) {
        let line = r.y as usize * width;
        let (left, right) = (line + r.x0 as usize, line + r.x1 as usize - 1);
        for (edge, inwards, room) in [(left, 1i64, r.x0), (right, -1, width as u32 - r.x1)] {
            if room >= 2 {
                let at = |k: i64| {
                    let index = edge.checked_add_signed((k * inwards) as isize);
                    index.and_then(|i| distance.get(i)).copied().unwrap_or(0.0)
                };
                sum += at(1) - at(-2);
                count += 1.0;
            }
        }
        let y = r.y as usize;
        for at in left..=right {
            if y >= 2 && mask[at - width] == 0 && y + 1 < lines {
                sum += distance[at + width] - distance[at - 2 * width];
                count += 1.0;
            }
            if y + 2 < lines && mask[at + width] == 0 && y >= 1 {
                sum += distance[at - width] - distance[at + 2 * width];
                count += 1.0;
            }
        }
    }
    if count > 0.0 { sum / count } else { 0.0 }
}
