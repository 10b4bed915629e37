//! The magnet's face: how much of it is covered with paste.

use swarfbook_job::census::MagnetCover;

use crate::colour::linear_of_srgb;
use crate::picture::Upright;

/// The ring of the face that is looked at, mm from its middle: a ring magnet's hole lies inside
/// it, a bar magnet's long edge outside (pan magnets are 16 to 40 mm across; common practice, no
/// published source).
const FROM_MM: f64 = 4.5;
const TO_MM: f64 = 8.0;
/// Paste and bare face are told apart when the one is this much brighter than the other.
const APART: f64 = 2.0;
/// A face of one tone is bare when it reflects more than this, as a share of white: bare steel or
/// ferrite 0.08 to 0.3, paste 0.02 to 0.06 (from the rendered photos' own materials, no published source).
const BARE: f64 = 0.065;

/// Share of the face around `at` that is covered. `white` is the linear brightness of white.
pub(crate) fn cover(
    picture: &Upright,
    at: [f64; 2],
    px_per_mm: f64,
    white: f64,
) -> Option<MagnetCover> {
    let mut seen = Vec::new();
    let steps = 64;
    for j in -steps..=steps {
        for i in -steps..=steps {
            let [dx, dy] = [i, j].map(|k| f64::from(k) / f64::from(steps) * TO_MM);
            if (FROM_MM..=TO_MM).contains(&dx.hypot(dy))
                && let Some(v) =
                    mean_luma(picture, [at[0] + dx * px_per_mm, at[1] + dy * px_per_mm])
            {
                seen.push(linear_of_srgb(v));
            }
        }
    }
    if seen.len() < 1000 {
        return None;
    }
    seen.sort_by(f64::total_cmp);
    // In logarithms, so that light falling off over the face weighs the same on both tones.
    let logs: Vec<f64> = seen.iter().map(|v| v.max(1e-3).ln()).collect();
    let (split, dark, bright) = two_tones(&logs)?;
    let cover = if bright - dark > APART.ln() {
        split as f64 / logs.len() as f64
    } else if logs[logs.len() / 2].exp() > BARE * white {
        0.0
    } else {
        1.0
    };
    // The ring is a sample of the face: what varies over it varies beside it too.
    let u = 0.05 + 0.6 * cover * (1.0 - cover);
    Some(MagnetCover {
        cover,
        cover_lo: (cover - 1.645 * u).max(0.0),
        cover_hi: (cover + 1.645 * u).min(1.0),
    })
}

/// Brightness around a point, paste's glitter averaged out.
fn mean_luma(picture: &Upright, [x, y]: [f64; 2]) -> Option<f64> {
    let offsets = [-5.0, 0.0, 5.0]
        .map(|dy| [-5.0, 0.0, 5.0].map(|dx| [dx, dy]))
        .concat();
    let mut sum = 0.0;
    for [dx, dy] in &offsets {
        sum += picture.luma_at([x + dx, y + dy])?;
    }
    Some(sum / offsets.len() as f64)
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

    /// A face with its left share `cover` dark, the rest bright.
    fn face(cover: f64, dark: u8, bright: u8) -> Upright {
        let rgb = (0..400usize * 400)
            .map(|i| (i % 400) as f64)
            .flat_map(|x| [if x < 400.0 * cover { dark } else { bright }; 3])
            .collect();
        Upright {
            width: 400,
            height: 400,
            rgb,
            focal_35mm: None,
        }
    }

    #[test]
    fn half_covered_bare_and_full() {
        for (picture, expected) in [
            (face(0.5, 40, 120), 0.5),
            (face(0.0, 40, 120), 0.0),
            (face(1.0, 40, 120), 1.0),
        ] {
            let seen = cover(&picture, [200.0, 200.0], 20.0, 1.0).unwrap();
            assert!((seen.cover - expected).abs() < 0.03, "{seen:?} {expected}");
            assert!(seen.cover_lo <= expected && expected <= seen.cover_hi);
        }
    }
}
