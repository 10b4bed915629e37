//! The magnet's face: its outline, and how much of it is covered with paste.

mod face;
mod sheet;

use swarfbook_job::census::MagnetCover;

use crate::picture::Upright;
use crate::plane::Homography;
use face::find;
use sheet::{Sheet, mean};

/// Rim of the face that is left out, mm: paste hangs over it, light is bent at it.
const RIM_MM: f64 = 0.4;
/// How much roughness tells beside brightness: paste is darker than bare metal and rougher, and
/// either alone fails on a dark magnet or in flat light.
const ROUGH_WEIGHT: f32 = 0.5;
/// Paste and bare face are told apart when their figures differ by this (ln).
const APART: f64 = 0.5;
/// Tone alone tells where paste ends when the way to the middle between the two is this long (ln), and
/// so many times the median by which bare face strays: two standard deviations.
const APART_BY_TONE: f64 = 0.12;
const EVEN: f64 = 3.0;
/// A face of one tone is bare when it is brighter (share of white) or smoother than these allow:
/// bare steel or ferrite 0.05 to 0.3, paste 0.015 to 0.06; roughness is of ln of light over 0.5 mm
/// (both from the rendered photos' materials, no published source).
const BARE_LIGHT: f64 = 0.065;
const BARE_ROUGH: f64 = 0.09;
/// Roughness below which it tells nothing: a camera's noise in good light, and where light is burnt out
/// there is none at all.
const SMOOTH: f32 = 0.02;

/// Uncertainty of a cover (one standard deviation): of any, of one with paste's fuzzy borders in it, and
/// of a face whose border shows less than this, which may be outlined wrongly. Over the magnets of
/// all three sets: 0.95 of 40 lie within nine tenths' interval.
const U_COVER: f64 = 0.03;
const U_BORDERS: f64 = 0.05;
const SHOWN: f64 = 0.65;
const U_OUTLINE: f64 = 0.05;

/// Share of the face around `at` (px) that is covered. `white` is the linear brightness of white,
/// `subject` takes mm of the face's plane to px, and `ground` the same mm straight below.
pub(crate) fn cover(
    picture: &Upright,
    at: [f64; 2],
    subject: &Homography,
    ground: &Homography,
    white: f64,
) -> Option<MagnetCover> {
    let sheet = Sheet::new(picture, subject, ground, at)?;
    let (face, shown) = find(&sheet);
    let on: Vec<f32> = (0..sheet.fine.len())
        .map(|c| f32::from(u8::from(face.holds(sheet.mm(c), RIM_MM))))
        .collect();
    let cells: Vec<usize> = (0..on.len()).filter(|c| on[*c] > 0.0).collect();
    if cells.len() < 400 {
        return None;
    }
    // Means over the face alone: what lies beside it would pass for roughness at its border.
    let within = |plane: &[f32], r: usize| -> Vec<f32> {
        let shown: Vec<f32> = plane.iter().zip(&on).map(|(v, w)| v * w).collect();
        let sums = mean(&shown, sheet.side, r);
        let shares = mean(&on, sheet.side, r);
        sums.iter()
            .zip(shares)
            .map(|(s, w)| s / w.max(1e-6))
            .collect()
    };
    let tone = within(&sheet.fine, 1);
    let square: Vec<f32> = sheet
        .fine
        .iter()
        .zip(within(&sheet.fine, 2))
        .map(|(v, m)| (v - m).powi(2))
        .collect();
    let rough: Vec<f32> = within(&square, 2)
        .iter()
        .map(|v| v.sqrt().max(SMOOTH).ln())
        .collect();
    let figure = |c: &usize| f64::from(tone[*c] - ROUGH_WEIGHT * rough[*c]);
    let mut figures: Vec<f64> = cells.iter().map(figure).collect();
    figures.sort_by(f64::total_cmp);
    let (split, paste, bare) = two_tones(&figures)?;
    let middle = |plane: &[f32], of: &[usize]| {
        let mut v: Vec<f32> = of.iter().map(|c| plane[*c]).collect();
        let half = v.len() / 2;
        f64::from(*v.select_nth_unstable_by(half, f32::total_cmp).1)
    };
    let cover = if bare - paste > APART {
        let level = figures[split];
        let (under, clear): (Vec<usize>, Vec<usize>) =
            cells.iter().partition(|c| figure(c) < level);
        let (dark, bright) = (middle(&tone, &under), middle(&tone, &clear));
        let strays: Vec<f32> = tone.iter().map(|v| (v - bright as f32).abs()).collect();
        let half = (bright - dark) / 2.0;
        // Roughness reaches beyond paste's borders; where tone tells the two apart, it tells where.
        let by_tone = half > APART_BY_TONE.max(EVEN * middle(&strays, &clear));
        let below = |c: &&usize| f64::from(tone[**c]) < bright - half;
        let under = if by_tone {
            cells.iter().filter(below).count()
        } else {
            split
        };
        under as f64 / cells.len() as f64
    } else {
        let light = middle(&tone, &cells) - (BARE_LIGHT * white).ln();
        let smooth = BARE_ROUGH.ln() - middle(&rough, &cells);
        f64::from(u8::from(light + smooth < 0.0))
    };
    let badly_outlined = if shown < SHOWN { U_OUTLINE } else { 0.0 };
    let u = U_COVER + U_BORDERS * cover * (1.0 - cover) + badly_outlined;
    Some(MagnetCover {
        cover,
        cover_lo: (cover - 1.645 * u).max(0.0),
        cover_hi: (cover + 1.645 * u).min(1.0),
    })
}

/// Splits sorted values where the two sides' means are best apart (Otsu): how many are below, and
/// the two means.
fn two_tones(sorted: &[f64]) -> Option<(usize, f64, f64)> {
    let total: f64 = sorted.iter().sum();
    let (mut below, mut best) = (0.0, None);
    let mut most = 0.0;
    for (i, v) in sorted.iter().enumerate().take(sorted.len() - 1) {
        below += v;
        let n = (i + 1) as f64;
        let rest = sorted.len() as f64 - n;
        let (dark, bright) = (below / n, (total - below) / rest);
        let between = n * rest * (dark - bright).powi(2);
        if between > most {
            most = between;
            best = Some((i + 1, dark, bright));
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A block of 20 by 14 mm on bright paper at 20 px a mm, its left share `cover` under paste.
    fn photo(cover: f64, bare: u8) -> Upright {
        let (width, height) = (1000, 1000);
        let mut rgb = Vec::with_capacity(3 * width * height);
        for i in 0..width * height {
            let (x, y) = (
                (i % width) as f64 / 20.0 - 25.0,
                (i / width) as f64 / 20.0 - 25.0,
            );
            // Grains of a fifth of a mm.
            let dice = ((i % width / 4 + 251 * (i / width / 4)) as u32).wrapping_mul(2_654_435_761);
            let grain = (dice >> 28) as u8;
            let v = if x.abs() > 10.0 || y.abs() > 7.0 {
                225
            } else if x < -10.0 + 20.0 * cover {
                24 + 2 * grain
            } else {
                bare
            };
            rgb.extend([v; 3]);
        }
        Upright {
            width,
            height,
            rgb,
            focal_35mm: None,
        }
    }

    #[test]
    fn bare_half_covered_and_full() {
        for (truth, bare) in [(0.0, 120), (0.5, 120), (0.5, 70), (1.0, 120)] {
            let subject = Homography::uniform(20.0);
            let seen = cover(&photo(truth, bare), [510.0, 495.0], &subject, &subject, 1.0).unwrap();
            assert!((seen.cover - truth).abs() < 0.06, "{seen:?} {truth}");
            assert!(
                seen.cover_lo <= truth && truth <= seen.cover_hi,
                "{seen:?} {truth}"
            );
        }
    }
}
