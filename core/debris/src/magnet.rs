//! The magnet's face: how much of it is covered.

use swarfbook_job::census::MagnetCover;

use crate::picture::Upright;

/// Share of the face around `at` that is darker than half way between its two tones.
pub(crate) fn cover(picture: &Upright, at: [f64; 2], px_per_mm: f64) -> Option<MagnetCover> {
    // A pan magnet is 20 to 40 mm across: the disc of 9 mm around its middle is face.
    let reach = 9.0 * px_per_mm;
    let mut histogram = [0u32; 256];
    let steps = 60;
    for j in -steps..=steps {
        for i in -steps..=steps {
            let (dx, dy) = (f64::from(i) / 60.0 * reach, f64::from(j) / 60.0 * reach);
            if dx.hypot(dy) <= reach
                && let Some(v) = picture.luma_at([at[0] + dx, at[1] + dy])
            {
                histogram[v as usize] += 1;
            }
        }
    }
    let (threshold, share) = otsu(&histogram)?;
    let cover = if threshold == 0 { 0.0 } else { share };
    Some(MagnetCover {
        cover,
        cover_lo: (cover - 0.2).max(0.0),
        cover_hi: (cover + 0.2).min(1.0),
    })
}

/// Otsu's threshold and the share at or below it.
fn otsu(histogram: &[u32; 256]) -> Option<(usize, f64)> {
    let total: f64 = histogram.iter().map(|n| f64::from(*n)).sum();
    let moment: f64 = histogram
        .iter()
        .enumerate()
        .map(|(v, n)| v as f64 * f64::from(*n))
        .sum();
    let (mut below, mut below_moment, mut best) = (0.0, 0.0, None);
    let mut most = 0.0;
    for (v, n) in histogram.iter().enumerate() {
        below += f64::from(*n);
        below_moment += v as f64 * f64::from(*n);
        let above = total - below;
        if below == 0.0 || above <= 0.0 {
            continue;
        }
        let between =
            below * above * (below_moment / below - (moment - below_moment) / above).powi(2);
        if between > most {
            most = between;
            best = Some((v, below / total));
        }
    }
    best
}
