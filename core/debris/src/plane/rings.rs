//! Candidates for the gauge card's corner rings: a dark ring around a bright
//! disc, on bright.

use crate::find::label::components_of;
use crate::picture::Small;

/// A ring as seen in a reduced picture; px of the full picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ring {
    pub(crate) centre: [f64; 2],
    /// Mean of half its width and half its height.
    pub(crate) radius: f64,
}

/// Inner over outer radius as printed.
const INNER: f64 = 2.40 / 5.00;

/// Rings of at least 3 px radius in `small`.
pub(crate) fn rings(small: &Small) -> Vec<Ring> {
    let (w, h) = (small.width, small.height);
    // Dark against the mean of a square somewhat wider than a card's corner.
    let dark = darker_than_around(small, (w.max(h) / 24).max(8), 0.72);
    components_of(&dark, w)
        .iter()
        .filter_map(|c| {
            let (bw, bh) = (f64::from(c.x1 - c.x0), f64::from(c.y1 - c.y0));
            let fill = c.area as f64 / (std::f64::consts::FRAC_PI_4 * bw * bh);
            let round = (0.45..2.2).contains(&(bw / bh)) && (0.45..1.1).contains(&fill);
            if !round || bw.min(bh) < 6.0 || bw.max(bh) > 0.12 * w.max(h) as f64 {
                return None;
            }
            let centre = [f64::from(c.x0) + bw / 2.0, f64::from(c.y0) + bh / 2.0];
            is_ring(small, centre, bw / 2.0, bh / 2.0).then(|| Ring {
                centre: centre.map(|v| v * small.step as f64),
                radius: (bw + bh) / 4.0 * small.step as f64,
            })
        })
        .collect()
}

/// Along most of eight rays: bright in the middle, dark in the ring, bright outside.
fn is_ring(small: &Small, centre: [f64; 2], rx: f64, ry: f64) -> bool {
    let at = |r: f64, angle: f64| -> Option<f64> {
        let x = centre[0] + r * rx * angle.cos();
        let y = centre[1] + r * ry * angle.sin();
        let inside = x >= 0.0 && y >= 0.0 && x < small.width as f64 && y < small.height as f64;
        inside.then(|| f64::from(small.luma[y as usize * small.width + x as usize]))
    };
    let Some(middle) = at(0.0, 0.0) else {
        return false;
    };
    let good = (0..8).filter(|&i| {
        let angle = f64::from(i) * std::f64::consts::FRAC_PI_4 + 0.3;
        let (ring, outside) = (at((1.0 + INNER) / 2.0, angle), at(1.45, angle));
        matches!((ring, outside), (Some(r), Some(o)) if r < 0.75 * middle && r < 0.75 * o && middle > 0.5 * o)
    });
    good.count() >= 6
}

/// Set where brightness is below `share` of its mean over a square of `2 half + 1`.
fn darker_than_around(small: &Small, half: usize, share: f64) -> Vec<u8> {
    let (w, h) = (small.width, small.height);
    let mut sums = vec![0u64; (w + 1) * (h + 1)];
    for y in 0..h {
        let mut row = 0u64;
        for x in 0..w {
            row += u64::from(small.luma[y * w + x]);
            sums[(y + 1) * (w + 1) + x + 1] = sums[y * (w + 1) + x + 1] + row;
        }
    }
    let mut out = vec![0u8; w * h];
    for y in 0..h {
        let (y0, y1) = (y.saturating_sub(half), (y + half + 1).min(h));
        for x in 0..w {
            let (x0, x1) = (x.saturating_sub(half), (x + half + 1).min(w));
            let sum = sums[y1 * (w + 1) + x1] + sums[y0 * (w + 1) + x0]
                - sums[y0 * (w + 1) + x1]
                - sums[y1 * (w + 1) + x0];
            let mean = sum as f64 / ((y1 - y0) * (x1 - x0)) as f64;
            out[y * w + x] = u8::from(f64::from(small.luma[y * w + x]) < share * mean);
        }
    }
    out
}
