//! The picture at the scale at which particles are sought: reduced by whole
//! steps until noise is averaged away but the smallest size still fills pixels.

use std::borrow::Cow;

use crate::picture::{Upright, sum_rows};

/// px per mm below which a picture is not reduced further: 0.3 mm, the smallest
/// size asked for, then still spans about two pixels.
const FINEST_PX_PER_MM: f64 = 7.0;

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

/// The work picture for a scale.
pub(crate) fn work_of(picture: &Upright, px_per_mm: f64) -> Work<'_> {
    let step = ((px_per_mm / FINEST_PX_PER_MM) as usize).clamp(1, 8);
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

    /// Squares of a small picture, each pixel's sum taken by itself.
    #[test]
    fn reduced_by_sums_of_rows_as_square_by_square() {
        let (width, height) = (31, 17);
        let bytes = (0..3 * width * height).map(|i| (i * i % 251 + i % 5) as u8);
        let picture = Upright {
            width,
            height,
            rgb: bytes.collect(),
            focal_35mm: None,
        };
        for step in 1..=4 {
            let work = work_of(&picture, FINEST_PX_PER_MM * step as f64 + 0.5);
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
