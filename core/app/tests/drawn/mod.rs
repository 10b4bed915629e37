//! A photo of a patch, drawn: pieces of known length on paper, with two marks a known length
//! apart. Nothing in it is photographed.

#![allow(clippy::expect_used)] // in helpers of tests, too
#![allow(dead_code)] // each file of tests uses its own part

use std::io::Cursor;

use image::{ImageFormat, Rgb, RgbImage};
use swarfbook_job::census::PointPx;

/// Paper, mm.
const WIDE_MM: f64 = 126.0;
const HIGH_MM: f64 = 100.0;
/// Middles of pieces lie this far apart, mm.
const APART_MM: f64 = 9.0;

/// A piece that was drawn.
#[derive(Clone, Copy)]
pub struct Drawn {
    pub at_px: PointPx,
    pub mm: f64,
    half_px: [f64; 2],
    turn: f64,
}

impl Drawn {
    /// Whether a place in the photo is on it, or right beside it.
    pub fn holds(&self, [x, y]: PointPx) -> bool {
        let far = (x - self.at_px[0]).hypot(y - self.at_px[1]);
        far <= self.half_px[0] + 3.0
    }
}

/// A photo in the making.
pub struct Drawing {
    px_per_mm: f64,
    pieces: Vec<Drawn>,
}

impl Drawing {
    /// An empty paper; `fine` for pieces of few tenths of a millimetre.
    pub fn new(fine: bool) -> Drawing {
        Drawing {
            px_per_mm: if fine { 32.0 } else { 14.0 },
            pieces: Vec::new(),
        }
    }

    /// One piece more, at the next free place.
    pub fn piece(&mut self, mm: f64, width_mm: f64) -> Drawn {
        let columns = ((WIDE_MM - 16.0) / APART_MM) as usize;
        let n = self.pieces.len();
        let (column, row) = (n % columns, n / columns);
        let scale = self.px_per_mm;
        let drawn = Drawn {
            at_px: [
                (12.0 + column as f64 * APART_MM) * scale,
                (14.0 + row as f64 * APART_MM) * scale,
            ],
            mm,
            half_px: [mm / 2.0 * scale, width_mm / 2.0 * scale],
            turn: 0.4 + n as f64 * 1.3,
        };
        self.pieces.push(drawn);
        drawn
    }

    /// Two points a known length apart, mm.
    pub fn taps(&self) -> ([PointPx; 2], f64) {
        let y = (HIGH_MM - 4.0) * self.px_per_mm;
        ([[0.0, y], [100.0 * self.px_per_mm, y]], 100.0)
    }

    /// The picture as a PNG file.
    pub fn png(&self) -> Vec<u8> {
        let wide = (WIDE_MM * self.px_per_mm) as u32;
        let high = (HIGH_MM * self.px_per_mm) as u32;
        let mut seed = 1_u32;
        let mut picture = RgbImage::from_fn(wide, high, |_, _| {
            // A sensor's grain.
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let grain = (seed >> 29) as u8;
            Rgb([208 + grain, 205 + grain, 198 + grain])
        });
        for piece in &self.pieces {
            draw(&mut picture, piece);
        }
        let mut bytes = Cursor::new(Vec::new());
        picture
            .write_to(&mut bytes, ImageFormat::Png)
            .expect("written");
        bytes.into_inner()
    }
}

/// An ellipse with a soft edge of a pixel, dark as oily metal.
fn draw(picture: &mut RgbImage, piece: &Drawn) {
    let [cx, cy] = piece.at_px;
    let reach = piece.half_px[0] + 2.0;
    let (sin, cos) = piece.turn.sin_cos();
    let [a, b] = piece.half_px;
    for y in (cy - reach) as u32..=(cy + reach) as u32 {
        for x in (cx - reach) as u32..=(cx + reach) as u32 {
            if x >= picture.width() || y >= picture.height() {
                continue;
            }
            let (dx, dy) = (f64::from(x) + 0.5 - cx, f64::from(y) + 0.5 - cy);
            let (u, v) = ((dx * cos + dy * sin) / a, (dy * cos - dx * sin) / b);
            let r = u.hypot(v);
            // Distance to the edge in pixels, to first order.
            let slope = (u / a).hypot(v / b) / r.max(1e-9);
            let inside = (0.5 - (r - 1.0) / slope.max(1e-9)).clamp(0.0, 1.0);
            let pixel = picture.get_pixel_mut(x, y);
            for (channel, ink) in pixel.0.iter_mut().zip([58.0, 60.0, 66.0]) {
                *channel = (f64::from(*channel) * (1.0 - inside) + ink * inside) as u8;
            }
        }
    }
}
