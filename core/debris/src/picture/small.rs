//! Reduced copies and samples of the upright picture.

use super::Upright;

/// A plane of brightness, `step` times smaller than the picture it came from.
#[derive(Debug, Clone)]
pub(crate) struct Small {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) step: usize,
    pub(crate) luma: Vec<u8>,
}

/// Brightness reduced by plain averaging of `step` x `step` squares (a border that
/// fills no square is left out). Weights of ITU-R BT.601 in 256ths.
pub(crate) fn reduce(picture: &Upright, step: usize) -> Small {
    let (width, height) = (picture.width / step, picture.height / step);
    let mut luma = Vec::with_capacity(width * height);
    let mut sums = vec![0u16; 3 * width * step];
    let whole = (256 * step * step) as u32;
    for y in 0..height {
        sum_rows(picture, y * step..(y + 1) * step, &mut sums);
        luma.extend(sums.chunks_exact(3 * step).map(|square| {
            let mut sum = 0;
            for p in square.chunks_exact(3) {
                sum += 77 * u32::from(p[0]) + 150 * u32::from(p[1]) + 29 * u32::from(p[2]);
            }
            (sum / whole) as u8
        }));
    }
    Small {
        width,
        height,
        step,
        luma,
    }
}

/// Sums of rows, at most 257 of them, byte by byte from their left ends, for as many as `sums` has.
pub(crate) fn sum_rows(picture: &Upright, rows: std::ops::Range<usize>, sums: &mut [u16]) {
    sums.fill(0);
    for row in rows {
        let row = &picture.rgb[3 * row * picture.width..][..sums.len()];
        for (sum, v) in sums.iter_mut().zip(row) {
            *sum += u16::from(*v);
        }
    }
}

impl Upright {
    /// Brightness 0 to 255 between pixel centres; `None` outside the picture.
    pub(crate) fn luma_at(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let [r, g, b] = self.rgb_at([x, y])?;
        Some(0.299 * r + 0.587 * g + 0.114 * b)
    }

    /// Colour 0 to 255 between pixel centres, as stored; `None` outside the picture.
    pub(crate) fn rgb_at(&self, [x, y]: [f64; 2]) -> Option<[f64; 3]> {
        let (x, y) = (x - 0.5, y - 0.5);
        // Compared as they are: a place beyond any number of pixels has no whole one.
        let within = |at: f64, side: usize| at >= 0.0 && at < side as f64 - 1.0;
        if !(within(x, self.width) && within(y, self.height)) {
            return None;
        }
        let (u, v) = (x as usize, y as usize);
        let (fx, fy) = (x - u as f64, y - v as f64);
        let at = 3 * (v * self.width + u);
        let below = at + 3 * self.width;
        let p = |i: usize| f64::from(self.rgb[i]);
        Some(std::array::from_fn(|c| {
            let top = p(at + c) * (1.0 - fx) + p(at + 3 + c) * fx;
            let bottom = p(below + c) * (1.0 - fx) + p(below + 3 + c) * fx;
            top * (1.0 - fy) + bottom * fy
        }))
    }
}

#[cfg(test)]
mod places {
    use super::*;

    /// Found by `fuzz/src/bin/batter.rs`.
    #[test]
    fn a_place_beyond_any_number_is_outside() {
        let picture = Upright {
            width: 4,
            height: 3,
            rgb: vec![90; 36],
            lens: None,
        };
        assert!(picture.rgb_at([2.0, 1.5]).is_some());
        for far in [1e300, f64::INFINITY, f64::NAN, -1e300, 3.6] {
            assert_eq!(picture.rgb_at([far, 1.0]), None);
        }
        assert_eq!(picture.rgb_at([1.0, 2.6]), None);
    }
}
