//! The picture at the scale at which particles are sought: reduced by whole
//! steps until noise is averaged away but the smallest size still fills pixels.

use crate::picture::{Upright, sum_rows};

/// px per mm below which a picture is not reduced further: 0.3 mm, the smallest
/// size asked for, then still spans about two pixels.
const FINEST_PX_PER_MM: f64 = 7.0;

/// What no pixel packs to: brightest, and black.
pub(crate) const HIDDEN: u32 = 0xFF00_0000;

/// A reduced copy, three bytes a pixel.
#[derive(Debug, Clone)]
pub(crate) struct Work {
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// Pixels of the full picture a side of one of these.
    pub(crate) step: usize,
    pub(crate) rgb: Vec<u8>,
}

impl Work {
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
pub(crate) fn work_of(picture: &Upright, px_per_mm: f64) -> Work {
    let step = ((px_per_mm / FINEST_PX_PER_MM) as usize).clamp(1, 8);
    let (width, height) = (picture.width / step, picture.height / step);
    if step == 1 {
        return Work {
            width,
            height,
            step,
            rgb: picture.rgb.clone(),
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
        rgb,
    }
}
