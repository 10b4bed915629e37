//! A picture in one tone, and what of it lies under a grid.

use crate::plane::Homography;

/// A picture in one tone, row by row from the top left.
#[derive(Debug, Clone)]
pub struct Grey {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pixels: Vec<u8>,
}

/// Points a pixel is the mean of, a side: more than any photo needs.
const MOST_POINTS: usize = 16;

impl Grey {
    /// The mean of the colours, so that figures of any one colour stand out. `channels` bytes a
    /// pixel, of which the first three are colours (one: grey). Nothing for a size that does not fit.
    #[must_use]
    pub fn from_bytes(width: usize, height: usize, channels: usize, bytes: &[u8]) -> Option<Grey> {
        let fits = width > 0 && height > 0 && matches!(channels, 1 | 3 | 4);
        if !fits || bytes.len() != width.checked_mul(height)?.checked_mul(channels)? {
            return None;
        }
        let pixels = if channels == 1 {
            bytes.to_vec()
        } else {
            let mean = |p: &[u8]| {
                let sum = p.iter().take(3).map(|c| u16::from(*c)).sum::<u16>();
                u8::try_from(sum / 3).unwrap_or(u8::MAX)
            };
            bytes.chunks_exact(channels).map(mean).collect()
        };
        Some(Grey {
            width,
            height,
            pixels,
        })
    }

    /// The tone (0 to 1) at a place, where pixels have their middles at halves; beyond the
    /// border that of the border.
    fn at(&self, x: f64, y: f64) -> f32 {
        let place = |v: f64, size: usize| {
            let v = (v - 0.5).clamp(0.0, (size - 1) as f64);
            let low = v as usize;
            (low, (low + 1).min(size - 1), (v - low as f64) as f32)
        };
        let (x0, x1, fx) = place(x, self.width);
        let (y0, y1, fy) = place(y, self.height);
        let tone = |x, y| f32::from(self.pixels.get(y * self.width + x).copied().unwrap_or(0));
        let top = tone(x0, y0) * (1.0 - fx) + tone(x1, y0) * fx;
        let end = tone(x0, y1) * (1.0 - fx) + tone(x1, y1) * fx;
        (top * (1.0 - fy) + end * fy) / 255.0
    }

    /// What lies under a grid of `width` by `height` cells that a plane lays over this picture:
    /// each cell is the mean of enough points that no pixel is passed over.
    pub(crate) fn under(&self, plane: &Homography, width: usize, height: usize) -> Vec<f32> {
        let (w, h) = (width as f64, height as f64);
        let [a, b, c, d] = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]].map(|p| plane.at(p));
        let long = |p: [f64; 2], q: [f64; 2]| (p[0] - q[0]).hypot(p[1] - q[1]);
        let wide = long(a, b).max(long(c, d)) / w;
        let high = long(b, c).max(long(d, a)) / h;
        let points = (wide.max(high).ceil().max(2.0) as usize).min(MOST_POINTS);
        let share = 1.0 / points as f64;
        let mut out = Vec::with_capacity(width * height);
        for y in 0..height {
            for x in 0..width {
                let mut sum = 0.0;
                for j in 0..points {
                    for i in 0..points {
                        let [px, py] = plane.at([
                            x as f64 + (i as f64 + 0.5) * share,
                            y as f64 + (j as f64 + 0.5) * share,
                        ]);
                        sum += self.at(px, py);
                    }
                }
                out.push(sum / (points * points) as f32);
            }
        }
        out
    }
}

/// Tones with mean 0 and spread 1: what the networks were shown.
pub(crate) fn even(tones: &mut [f32]) {
    let n = tones.len().max(1) as f32;
    let mean = tones.iter().sum::<f32>() / n;
    let spread = (tones.iter().map(|t| (t - mean).powi(2)).sum::<f32>() / n).sqrt() + 0.02;
    for tone in tones {
        *tone = (*tone - mean) / spread;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_that_does_not_fit_is_no_picture() {
        assert!(Grey::from_bytes(2, 2, 1, &[0; 4]).is_some());
        assert!(Grey::from_bytes(2, 2, 3, &[0; 4]).is_none());
        assert!(Grey::from_bytes(0, 2, 1, &[]).is_none());
        assert!(Grey::from_bytes(2, 2, 2, &[0; 8]).is_none());
        assert!(Grey::from_bytes(usize::MAX, 2, 3, &[0; 8]).is_none());
    }

    #[test]
    fn a_grid_over_the_whole_gives_means() {
        let grey = Grey::from_bytes(4, 2, 1, &[0, 0, 255, 255, 0, 0, 255, 255]).expect("fits");
        let plane = Homography::over([[0.0, 0.0], [4.0, 0.0], [4.0, 2.0], [0.0, 2.0]], 2.0, 1.0);
        let tones = grey.under(&plane.expect("a plane"), 2, 1);
        assert!(tones[0] < 0.2 && tones[1] > 0.8, "{tones:?}");
    }

    #[test]
    fn even_tones_have_mean_nought() {
        let mut tones = vec![0.2, 0.4, 0.9];
        even(&mut tones);
        assert!(tones.iter().sum::<f32>().abs() < 1e-5);
    }
}
