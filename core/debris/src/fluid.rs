//! Colour of the fluid's film at a tapped point.

use swarfbook_job::census::FluidColour;

use crate::colour::{White, lab_of_linear, linear_of_srgb};
use crate::picture::Upright;

/// Half a side of the square that is looked at, mm (a drop on paper is 5 to 15 mm wide).
const HALF_MM: f64 = 1.5;

/// CIELAB of the film around `at`, glints left out; `light` is the light there over that on the card; `None` outside the picture.
pub(crate) fn fluid_at(
    picture: &Upright,
    at: [f64; 2],
    px_per_mm: f64,
    white: &White,
    light: Option<f64>,
) -> Option<FluidColour> {
    let half = (HALF_MM * px_per_mm).clamp(4.0, 80.0);
    let mut pixels: Vec<[f64; 3]> = Vec::new();
    let steps = half as i32;
    for dy in (-steps..=steps).step_by(2) {
        for dx in (-steps..=steps).step_by(2) {
            let p = [at[0] + f64::from(dx), at[1] + f64::from(dy)];
            if let Some(rgb) = picture.rgb_at(p) {
                pixels.push(rgb.map(linear_of_srgb));
            }
        }
    }
    if pixels.len() < 9 {
        return None;
    }
    // Glints are the brightest, debris the darkest: the middle half by brightness is film.
    pixels.sort_by(|a, b| a.iter().sum::<f64>().total_cmp(&b.iter().sum()));
    let film = &pixels[pixels.len() / 4..pixels.len() * 3 / 4 + 1];
    let n = film.len() as f64;
    let mean: [f64; 3] = std::array::from_fn(|c| film.iter().map(|p| p[c]).sum::<f64>() / n);
    let reflectance = std::array::from_fn(|c| mean[c] * white.gain[c] / light.unwrap_or(1.0));
    Some(FluidColour {
        lab: lab_of_linear(reflectance),
        // Steps off the fitted line, and light that may differ between the card and the drop.
        u_de: (1.0 + 8.0 * white.spread).hypot(if light.is_some() { 1.5 } else { 3.0 }),
    })
}
