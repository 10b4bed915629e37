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
/// (both from the rendered photos' materials, no published source). Of 27 such faces, 5 of them bare,
/// the barest that is covered and the least bare that is not lie evenly to both sides.
const BARE_LIGHT: f64 = 0.065;
const BARE_ROUGH: f64 = 0.055;
/// Nearer to it than this (ln) it is not known which of the two a face is.
const UNSURE: f64 = 0.3;
/// Brightness counts no more than this (ln) against roughness.
const MOST_LIGHT: f64 = 0.5;
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
    let (cover, known) = if bare - paste > APART {
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
        (under as f64 / cells.len() as f64, true)
    } else {
        let light = middle(&tone, &cells) - (BARE_LIGHT * white).ln();
        // Light hangs on the exposure where no card tells white.
        let light = light.clamp(-MOST_LIGHT, MOST_LIGHT);
        let smooth = BARE_ROUGH.ln() - middle(&rough, &cells);
        let barer = light + smooth;
        (f64::from(u8::from(barer < 0.0)), barer.abs() > UNSURE)
    };
    let badly_outlined = if shown < SHOWN { U_OUTLINE } else { 0.0 };
    let u = if known {
        U_COVER + U_BORDERS * cover * (1.0 - cover) + badly_outlined
    } else {
        1.0
    };
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

    const PX_PER_MM: f64 = 20.0;

    /// A photo of 50 x 50 mm by its tones at places in mm around the middle; where there is none, grains of
    /// a fifth of a mm.
    fn photo(tone: impl Fn(f64, f64) -> Option<u8>) -> Upright {
        let side = 1000;
        let mut rgb = Vec::with_capacity(3 * side * side);
        for i in 0..side * side {
            let mm = |v: usize| v as f64 / PX_PER_MM - 25.0;
            let dice = ((i % side / 4 + 251 * (i / side / 4)) as u32).wrapping_mul(2_654_435_761);
            let grain = 24 + 2 * (dice >> 28) as u8;
            rgb.extend([tone(mm(i % side), mm(i / side)).unwrap_or(grain); 3]);
        }
        Upright {
            width: side,
            height: side,
            rgb,
            lens: None,
        }
    }

    /// A block of 20 by 14 mm on bright paper, its left share `cover` under paste.
    fn block(cover: f64, bare: u8) -> Upright {
        photo(|x, y| {
            if x.abs() > 10.0 || y.abs() > 7.0 {
                Some(225)
            } else {
                (x >= -10.0 + 20.0 * cover).then_some(bare)
            }
        })
    }

    #[test]
    fn bare_half_covered_and_full() {
        let plane = Homography::uniform(PX_PER_MM);
        for (truth, bare) in [(0.0, 120), (0.5, 120), (0.5, 70), (1.0, 120)] {
            let photo = block(truth, bare);
            let seen = cover(&photo, [510.0, 495.0], &plane, &plane, 1.0).unwrap();
            assert!((seen.cover - truth).abs() < 0.06, "{seen:?} {truth}");
            assert!(
                seen.cover_lo <= truth && truth <= seen.cover_hi,
                "{seen:?} {truth}"
            );
        }
    }

    /// A dark face, ever rougher: bare, then it is not known, then under paste.
    #[test]
    fn a_face_that_may_be_either_is_said_to_be() {
        let plane = Homography::uniform(PX_PER_MM);
        let told = |grain: u32| {
            let photo = photo(|x, y| {
                let cell = |v: f64| (v * 5.0 + 200.0) as u32;
                let dice = (cell(x) + 251 * cell(y)).wrapping_mul(2_654_435_761) >> 28;
                let face = x.abs() < 10.0 && y.abs() < 7.0;
                Some(if face {
                    64 + (dice * grain / 4) as u8
                } else {
                    225
                })
            });
            let seen = cover(&photo, [510.0, 495.0], &plane, &plane, 1.0).unwrap();
            (seen.cover_lo, seen.cover_hi)
        };
        let all: Vec<_> = (1..12).map(told).collect();
        let (bare, rest) = all.split_at(all.iter().position(|c| c.1 > 0.1).unwrap());
        let (unsure, covered) = rest.split_at(rest.iter().position(|c| c.0 > 0.9).unwrap());
        assert!(!bare.is_empty() && !unsure.is_empty(), "{all:?}");
        assert!(unsure.iter().all(|c| *c == (0.0, 1.0)), "{all:?}");
        assert!(covered.iter().all(|c| c.0 > 0.9), "{all:?}");
    }

    /// A ring of 12 and 4 mm, its left half under paste, with its side in view, dark or bright, and tapped
    /// 8 mm off its middle.
    #[test]
    fn a_ring_seen_with_its_side_and_tapped_off_its_middle() {
        let (subject, foot) = (Homography::uniform(PX_PER_MM), [2.4, -1.2]);
        let mut ground = subject;
        ground.m[0][2] = foot[0] * PX_PER_MM;
        ground.m[1][2] = foot[1] * PX_PER_MM;
        for (side, behind) in [(35, 210), (190, 80)] {
            let photo = photo(|x, y| {
                let (face, below) = (x.hypot(y), (x - foot[0]).hypot(y - foot[1]));
                match () {
                    () if face < 4.0 => Some(50),
                    () if face < 12.0 => (x > 0.0).then_some(140),
                    // The side joins the face's border and the foot's.
                    () if below < 12.0 => Some(side),
                    () => Some(behind),
                }
            });
            let seen = cover(&photo, [500.0, 660.0], &subject, &ground, 1.0).unwrap();
            assert!((seen.cover - 0.5).abs() < 0.05, "{side}: {seen:?}");
        }
    }
}
