//! The picture at the scale at which particles are sought: reduced by whole
//! steps until noise is averaged away but the smallest size still fills pixels.

use crate::picture::Upright;

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
    let mut sums = vec![0u16; 3 * width];
    let whole = (step * step) as u32;
    for y in 0..height {
        sums.fill(0);
        for v in 0..step {
            let row = &picture.rgb[3 * (y * step + v) * picture.width..][..3 * width * step];
            for (sum, square) in sums.chunks_exact_mut(3).zip(row.chunks_exact(3 * step)) {
                for p in square.chunks_exact(3) {
                    sum[0] += u16::from(p[0]);
                    sum[1] += u16::from(p[1]);
                    sum[2] += u16::from(p[2]);
                }
            }
        }
        rgb.extend(
            sums.iter()
                .map(|s| ((u32::from(*s) + whole / 2) / whole) as u8),
        );
    }
    Work {
        width,
        height,
        step,
        rgb,
    }
}
