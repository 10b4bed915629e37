//! The picture at the scale at which particles are sought: reduced by whole
//! steps until noise is averaged away but the smallest size still fills pixels.

use crate::picture::Upright;

/// px per mm below which a picture is not reduced further: 0.3 mm, the smallest
/// size asked for, then still spans about two pixels.
const FINEST_PX_PER_MM: f64 = 7.0;

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
    /// Brightness of each pixel.
    pub(crate) fn luma(&self) -> Vec<u8> {
        let of = |p: &[u8]| (u16::from(p[0]) + 2 * u16::from(p[1]) + u16::from(p[2])) / 4;
        self.rgb.chunks_exact(3).map(|p| of(p) as u8).collect()
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
