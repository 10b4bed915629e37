//! White and tone curve from the card's grey steps.

use super::lab::linear_of_srgb;
use crate::picture::Upright;
use crate::plane::Card;
use crate::plane::drawing::{GREY_SRGB, GREY_X, GREY_Y, PAPER_SRGB, SQUARE};

/// Reflectance of white office paper over its nominal linear value: `gauge-card.md`.
const PRINT_REFLECTANCE: f64 = 0.90;

/// Gains that turn linear camera light into reflectance, as the card tells them.
#[derive(Debug, Clone, Copy)]
pub(crate) struct White {
    /// Reflectance per unit of linear light, by channel.
    pub(crate) gain: [f64; 3],
    /// How far the steps lie from the fitted gain, relative, root mean square.
    pub(crate) spread: f64,
}

/// Steps that lie farther from one gain than this, relative, tell no colour: the uncertainty of the fluid's would pass
/// 10 of CIEDE2000, as far as fresh fluid is from worn (from memory). Of 33 fluids in drawn photos the one card beyond it,
/// under glare, was 22 off; those below it 7 at most.
const SCATTERED: f64 = 1.1;

impl White {
    /// Whether the steps are so scattered that no colour can be told by them.
    pub(crate) fn says_nothing(&self) -> bool {
        self.spread > SCATTERED
    }
}

/// The gains; `None` when the steps can't be seen.
pub(crate) fn white_of_card(picture: &Upright, card: &Card) -> Option<White> {
    let mut seen: Vec<([f64; 3], f64)> = Vec::new();
    for (x, nominal) in GREY_X.iter().zip(GREY_SRGB) {
        let middle = [x + SQUARE / 2.0, GREY_Y + SQUARE / 2.0];
        if let Some(rgb) = patch_at(picture, card, middle) {
            seen.push((rgb, PRINT_REFLECTANCE * linear_of_srgb(nominal)));
        }
    }
    for bare in [[22.5, 6.5], [42.5, 6.5], [62.5, 6.5]] {
        if let Some(rgb) = patch_at(picture, card, bare) {
            seen.push((rgb, PRINT_REFLECTANCE * linear_of_srgb(PAPER_SRGB)));
        }
    }
    if seen.len() < 4 {
        return None;
    }
    let mut gain = [0.0; 3];
    for (c, gain) in gain.iter_mut().enumerate() {
        let mut ratios: Vec<f64> = seen.iter().map(|(rgb, r)| r / rgb[c].max(1e-4)).collect();
        ratios.sort_by(f64::total_cmp);
        *gain = ratios[ratios.len() / 2];
    }
    let errors = seen
        .iter()
        .map(|(rgb, r)| (rgb[1] * gain[1] / r - 1.0).powi(2));
    let spread = (errors.sum::<f64>() / seen.len() as f64).sqrt();
    Some(White { gain, spread })
}

/// Median linear colour of the inner 4 mm around a place of the card.
fn patch_at(picture: &Upright, card: &Card, mm: [f64; 2]) -> Option<[f64; 3]> {
    let mut values: [Vec<f64>; 3] = Default::default();
    for i in 0..7 {
        for j in 0..7 {
            let offset = |k: i32| (f64::from(k) - 3.0) * 0.6;
            let px = card
                .pose
                .project([mm[0] + offset(i) * 0.4, mm[1] + offset(j)], 0.0);
            let rgb = picture.rgb_at(px)?;
            for (list, v) in values.iter_mut().zip(rgb) {
                list.push(linear_of_srgb(v));
            }
        }
    }
    Some(values.map(|mut list| {
        list.sort_by(f64::total_cmp);
        list[list.len() / 2]
    }))
}
