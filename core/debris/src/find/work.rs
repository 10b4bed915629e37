//! The picture at the scale at which particles are sought: reduced by whole
//! steps until noise is averaged away but the smallest size still fills pixels.

use std::borrow::Cow;

use crate::picture::{Upright, sum_rows};

/// What no pixel packs to: brightest, and black.
pub(crate) const HIDDEN: u32 = 0xFF00_0000;

/// The picture itself or a reduced copy, three bytes a pixel.
#[derive(Debug, Clone)]
pub(crate) struct Work<'a> {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Pixels of the full picture a side of one of these.
    pub(crate) step: usize,
    pub(crate) rgb: Cow<'a, [u8]>,
}

impl Work<'_> {
    /// Brightness, red, green and blue of each pixel, in the four bytes of a number from the highest
    /// down; [`HIDDEN`] where the mask is set.
    pub(crate) fn packed(&self, mask: &[u8]) -> Vec<u32> {
        let pixels = self.rgb.chunks_exact(3).zip(mask);
        pixels
            .map(|(p, hidden)| {
                let [r, g, b] = [0, 1, 2].map(|c| u32::from(p[c]));
                let packed = ((r + 2 * g + b) / 4) << 24 | r << 16 | g << 8 | b;
                if *hidden == 0 { packed } else { HIDDEN }
            })
            .collect()
    }
}

impl Work<'_> {
    /// Of half as many pixels a side, each the mean of four, and the mask with it: a pixel is hidden
    /// when one of the four is. An odd last row or column stands for the one that is not there.
    pub(crate) fn halved(&self, mask: &[u8]) -> (Work<'static>, Vec<u8>) {
        let (width, height) = (self.width.div_ceil(2), self.height.div_ceil(2));
        let mut rgb = Vec::with_capacity(3 * width * height);
        let mut hidden = Vec::with_capacity(width * height);
        for y in 0..height {
            let [above, below] = [2 * y, (2 * y + 1).min(self.height - 1)].map(|y| y * self.width);
            let row = |from: usize| self.rgb[3 * from..3 * (from + self.width)].chunks(6);
            for (a, b) in row(above).zip(row(below)) {
                let beside = a.len() - 3;
                for c in 0..3 {
                    let sum = [a[c], a[beside + c], b[c], b[beside + c]].map(u16::from);
                    rgb.push(((sum.iter().sum::<u16>() + 2) / 4) as u8);
                }
            }
            let row = |from: usize| mask[from..from + self.width].chunks(2);
            let rows = row(above).zip(row(below));
            hidden.extend(rows.map(|(a, b)| u8::from(a.iter().chain(b).any(|m| *m != 0))));
        }
        let half = Work {
            width,
            height,
            step: 2 * self.step,
            rgb: Cow::Owned(rgb),
        };
        (half, hidden)
    }
}

/// The work picture for a scale, of `finest_px_per_mm` at least where the picture has as many.
pub(crate) fn work_of(picture: &Upright, px_per_mm: f64, finest_px_per_mm: f64) -> Work<'_> {
    let step = ((px_per_mm / finest_px_per_mm) as usize).clamp(1, 8);
    let (width, height) = (picture.width / step, picture.height / step);
    if step == 1 {
        return Work {
            width,
            height,
            step,
            rgb: Cow::Borrowed(&picture.rgb),
        };
    }
    let mut rgb = Vec::with_capacity(3 * width * height);
    let mut sums = vec![0u16; 3 * width * step];
    let whole = (step * step) as u16;
    // Of numbers this small the quotient's whole part is that of whole numbers, and found sooner.
    let mean = |sum: u16| (f32::from(sum + whole / 2) / f32::from(whole)) as u8;
    for y in 0..height {
        sum_rows(picture, y * step..(y + 1) * step, &mut sums);
        for square in sums.chunks_exact(3 * step) {
            let mut sum = [0u16; 3];
            for p in square.chunks_exact(3) {
                sum = [sum[0] + p[0], sum[1] + p[1], sum[2] + p[2]];
            }
            rgb.extend(sum.map(mean));
        }
    }
    Work {
        width,
        height,
        step,
        rgb: Cow::Owned(rgb),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::reduce;

    #[test]
    fn halved_by_fours() {
        let gray = |v: &[u8]| v.iter().flat_map(|v| [*v; 3]).collect();
        let work = Work {
            width: 3,
            height: 3,
            step: 2,
            rgb: Cow::Owned(gray(&[1, 3, 10, 5, 7, 20, 2, 4, 9])),
        };
        let mut mask = vec![0; 9];
        mask[4] = 1;
        let (half, hidden) = work.halved(&mask);
        assert_eq!((half.width, half.height, half.step), (2, 2, 4));
        assert_eq!(half.rgb.to_vec(), gray(&[4, 15, 3, 9]));
        assert_eq!(hidden, [1, 0, 0, 0]);
        let thin = Work {
            width: 1,
            height: 9,
            ..work
        };
        assert_eq!(thin.halved(&[0; 9]).0.width, 1);
    }

    /// Squares of a small picture, each pixel's sum taken by itself.
    #[test]
    fn reduced_by_sums_of_rows_as_square_by_square() {
        let (width, height) = (31, 17);
        let bytes = (0..3 * width * height).map(|i| (i * i % 251 + i % 5) as u8);
        let picture = Upright {
            width,
            height,
            rgb: bytes.collect(),
            lens: None,
        };
        for step in 1..=4 {
            let work = work_of(&picture, 7.0 * step as f64 + 0.5, 7.0);
            let small = reduce(&picture, step);
            assert_eq!((work.step, work.width), (step, width / step));
            for at in 0..work.width * work.height {
                let (x, y) = (at % work.width * step, at / work.width * step);
                let mut sum = [0u32; 3];
                for v in y..y + step {
                    for u in x..x + step {
                        for (c, sum) in sum.iter_mut().enumerate() {
                            *sum += u32::from(picture.rgb[3 * (v * width + u) + c]);
                        }
                    }
                }
                let whole = (step * step) as u32;
                let mean = sum.map(|s| ((s + whole / 2) / whole) as u8);
                assert_eq!(work.rgb[3 * at..3 * at + 3], mean);
                let luma = (77 * sum[0] + 150 * sum[1] + 29 * sum[2]) / (256 * whole);
                assert_eq!(u32::from(small.luma[at]), luma);
            }
        }
    }
}
