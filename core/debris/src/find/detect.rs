//! Where the picture differs from its ground more than the ground itself varies.

use super::ground::Ground;
use super::label::{Component, components, push_runs};
use super::work::Work;

/// A pixel belongs to a candidate when it differs by this many robust standard deviations ...
const GROW: f32 = 4.0;
/// ... or by this much of 255 where the ground is very even,
const GROW_LEAST: f32 = 9.0;
/// and a candidate counts when one pixel differs by this many times the above.
const SEED: f32 = 1.8;

/// A connected patch of difference, in work pixels.
#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    pub(crate) component: Component,
    /// Largest difference in it, of 255.
    pub(crate) peak: u8,
}

/// Candidates of a work picture, in order of their first pixel.
pub(crate) fn candidates(
    work: &Work,
    ground: &Ground,
    hidden: &dyn Fn(usize, usize) -> bool,
) -> Vec<Candidate> {
    let mut runs = Vec::new();
    let mut row = vec![0u8; work.width];
    let mut difference = vec![0u8; work.width * work.height];
    for y in 0..work.height {
        let here = &work.rgb[3 * y * work.width..3 * (y + 1) * work.width];
        let out = &mut difference[y * work.width..(y + 1) * work.width];
        difference_row(ground, y, here, out, &mut row);
        for (x, set) in row.iter_mut().enumerate() {
            if *set != 0 && hidden(x, y) {
                *set = 0;
            }
        }
        push_runs(y as u32, &row, &mut runs);
    }
    components(&runs)
        .into_iter()
        .filter_map(|component| {
            let peak = component
                .runs
                .iter()
                .flat_map(|r| {
                    let from = r.y as usize * work.width;
                    &difference[from + r.x0 as usize..from + r.x1 as usize]
                })
                .copied()
                .max()?;
            let (x, y) = (
                f64::from(component.x0 + component.x1) / 2.0,
                f64::from(component.y0 + component.y1) / 2.0,
            );
            let (_, spread) = ground.at(x, y)?;
            let least = threshold(spread as f32) * SEED;
            (f32::from(peak) >= least).then_some(Candidate { component, peak })
        })
        .collect()
}

/// Least difference of a candidate's pixel where the ground varies by `spread` (median absolute).
pub(crate) fn threshold(spread: f32) -> f32 {
    (GROW * 1.4826 * spread).max(GROW_LEAST)
}

/// One row: the largest channel difference to the interpolated ground, and whether it counts.
fn difference_row(ground: &Ground, y: usize, rgb: &[u8], out: &mut [u8], set: &mut [u8]) {
    let v = y as f32 / ground.pitch as f32;
    let j = (v as usize).min(ground.rows - 2);
    let fv = v - j as f32;
    let node = |i: usize| -> ([f32; 3], f32) {
        let (a, b) = (j * ground.columns + i, (j + 1) * ground.columns + i);
        let (ca, cb) = (ground.colour[a], ground.colour[b]);
        let mix = |p: f32, q: f32| {
            if p.is_nan() {
                q
            } else if q.is_nan() {
                p
            } else {
                p + (q - p) * fv
            }
        };
        let colour = std::array::from_fn(|c| mix(ca[c], cb[c]));
        (
            colour,
            ground.spread[a] + (ground.spread[b] - ground.spread[a]) * fv,
        )
    };
    let mut left = node(0);
    for i in 0..ground.columns - 1 {
        let right = node(i + 1);
        let (x0, x1) = (i * ground.pitch, ((i + 1) * ground.pitch).min(out.len()));
        let (l, r) = match (left.0[0].is_nan(), right.0[0].is_nan()) {
            (true, true) => {
                set[x0.min(out.len())..x1].fill(0);
                left = right;
                continue;
            }
            (true, false) => (right, right),
            (false, true) => (left, left),
            (false, false) => (left, right),
        };
        let step = 1.0 / ground.pitch as f32;
        for x in x0..x1 {
            let f = (x - x0) as f32 * step;
            let p = &rgb[3 * x..3 * x + 3];
            let mut d = 0f32;
            for c in 0..3 {
                let g = l.0[c] + (r.0[c] - l.0[c]) * f;
                d = d.max((f32::from(p[c]) - g).abs());
            }
            let spread = l.1 + (r.1 - l.1) * f;
            out[x] = d as u8;
            set[x] = u8::from(d > threshold(spread));
        }
        left = right;
    }
}
