//! Small planes of numbers: coverage of a polygon, blur.

use crate::shape::Point;

/// A window of the picture.
#[derive(Clone)]
pub struct Window {
    pub x0: i64,
    pub y0: i64,
    pub width: usize,
    pub height: usize,
    pub values: Vec<f32>,
}

impl Window {
    /// The share of each pixel that a polygon covers (3 x 3 points), with a margin around it.
    pub fn of(polygon: &[Point], margin: f64) -> Window {
        let low = |k: usize| polygon.iter().map(|p| p[k]).fold(f64::INFINITY, f64::min) - margin;
        let high = |k: usize| {
            polygon
                .iter()
                .map(|p| p[k])
                .fold(f64::NEG_INFINITY, f64::max)
                + margin
        };
        let (x0, y0) = (low(0).floor() as i64, low(1).floor() as i64);
        let width = (high(0).ceil() as i64 - x0).clamp(1, 4000) as usize;
        let height = (high(1).ceil() as i64 - y0).clamp(1, 4000) as usize;
        let mut values = vec![0f32; width * height];
        for line in 0..3 * height {
            let y = y0 as f64 + (line as f64 + 0.5) / 3.0;
            let mut ends: Vec<f64> = Vec::new();
            for i in 0..polygon.len() {
                let (a, b) = (polygon[i], polygon[(i + 1) % polygon.len()]);
                if (a[1] <= y) != (b[1] <= y) {
                    ends.push(a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]) - x0 as f64);
                }
            }
            ends.sort_by(f64::total_cmp);
            for pair in ends.chunks_exact(2) {
                let from = (pair[0] * 3.0 + 0.5).floor().max(0.0) as usize;
                let to = ((pair[1] * 3.0 + 0.5).floor().max(0.0) as usize).min(3 * width);
                for sub in from..to {
                    values[line / 3 * width + sub / 3] += 1.0 / 9.0;
                }
            }
        }
        Window {
            x0,
            y0,
            width,
            height,
            values,
        }
    }

    /// Blurred by nearly a Gaussian (three boxes).
    pub fn blurred(&self, sigma: f64) -> Window {
        let mut out = self.clone();
        blur(&mut out.values, self.width, sigma);
        out
    }

    /// Value at a pixel of the picture, 0 outside.
    pub fn at(&self, x: i64, y: i64) -> f32 {
        let (u, v) = (x - self.x0, y - self.y0);
        if u < 0 || v < 0 || u >= self.width as i64 || v >= self.height as i64 {
            return 0.0;
        }
        self.values[v as usize * self.width + u as usize]
    }
}

/// Blurs a plane by three boxes of the Gaussian's variance.
pub fn blur(values: &mut [f32], width: usize, sigma: f64) {
    if sigma < 0.25 {
        return;
    }
    // A box of fractional width 2 r + 1: whole taps and two ends.
    let r = ((4.0 * sigma * sigma + 1.0).sqrt() - 1.0) / 2.0;
    let (whole, rest) = (r.floor() as usize, (r - r.floor()) as f32);
    let weight = 1.0 / (2.0 * r as f32 + 1.0);
    let height = values.len() / width;
    let mut line: Vec<f32> = Vec::new();
    let mut sums = vec![0f32; width];
    for _ in 0..3 {
        for row in values.chunks_exact_mut(width) {
            line.clear();
            line.extend_from_slice(row);
            let at = |i: i64| line[i.clamp(0, width as i64 - 1) as usize];
            let w = whole as i64;
            let mut sum: f32 = (-w..=w).map(at).sum();
            for (i, v) in row.iter_mut().enumerate() {
                let i = i as i64;
                *v = weight * (sum + rest * (at(i - w - 1) + at(i + w + 1)));
                sum += at(i + w + 1) - at(i - w);
            }
        }
        // Down the columns all at once, row by row, which the cache likes.
        let source = values.to_vec();
        let row = |i: i64| {
            let y = i.clamp(0, height as i64 - 1) as usize;
            &source[y * width..(y + 1) * width]
        };
        let w = whole as i64;
        sums.fill(0.0);
        for i in -w..=w {
            sums.iter_mut().zip(row(i)).for_each(|(s, v)| *s += v);
        }
        for (i, out) in values.chunks_exact_mut(width).enumerate() {
            let i = i as i64;
            let (before, after, last) = (row(i - w - 1), row(i + w + 1), row(i - w));
            for x in 0..width {
                out[x] = weight * (sums[x] + rest * (before[x] + after[x]));
                sums[x] += after[x] - last[x];
            }
        }
    }
}
