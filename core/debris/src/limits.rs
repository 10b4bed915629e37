//! What a photo can't show, and what to do about it, in the technician's words.

use swarfbook_job::census::ScaleFrom;

use crate::picture::Upright;

/// Figures of a picture that limit what can be seen in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Quality {
    /// Standard deviation of the blur at the sharpest edges, px.
    pub(crate) blur_px: f64,
    /// Median brightness, of 255.
    pub(crate) brightness: f64,
    /// Share of pixels that are as bright as can be.
    pub(crate) glare: f64,
}

/// Blur from which small pieces are lost, px: three times that of a phone in focus.
pub(crate) const BLURRED_PX: f64 = 2.6;
/// Median brightness below which noise hides dark pieces, of 255.
pub(crate) const DARK: f64 = 32.0;
/// Share of glare from which it matters.
pub(crate) const GLARE: f64 = 0.02;
/// Fewest px per mm that show a piece of half a millimetre by its shape.
pub(crate) const FEW_PX_PER_MM: f64 = 8.0;
/// Relative uncertainty of the scale from which it is said.
const UNSURE: f64 = 0.01;

/// Looks at every eighth row.
pub(crate) fn quality(picture: &Upright) -> Quality {
    const FAR: usize = 12;
    let (mut near, mut far, mut levels) = ([0u32; 256], [0u32; 256], [0u32; 256]);
    let mut glare = 0u32;
    for row in picture.rgb.chunks_exact(3 * picture.width).step_by(8) {
        let green: Vec<u8> = row.chunks_exact(3).map(|p| p[1]).collect();
        glare += row
            .chunks_exact(3)
            .filter(|p| p.iter().all(|v| *v >= 250))
            .count() as u32;
        for v in &green {
            levels[usize::from(*v)] += 1;
        }
        for (a, b) in green.iter().zip(&green[1..]) {
            near[usize::from(a.abs_diff(*b))] += 1;
        }
        for (a, b) in green.iter().zip(green.get(FAR..).unwrap_or(&[])) {
            far[usize::from(a.abs_diff(*b))] += 1;
        }
    }
    // A step blurred by a Gaussian of s px rises by 0.40 / s of its height over one pixel.
    let steep = quantile(&near, 0.9995).max(1.0) / quantile(&far, 0.9995).max(1.0);
    Quality {
        blur_px: (0.40 / steep).clamp(0.4, 20.0),
        brightness: quantile(&levels, 0.5),
        glare: f64::from(glare) / f64::from(levels.iter().sum::<u32>().max(1)),
    }
}

fn quantile(histogram: &[u32; 256], share: f64) -> f64 {
    let total: f64 = histogram.iter().map(|n| f64::from(*n)).sum();
    let mut sum = 0.0;
    histogram
        .iter()
        .position(|n| {
            sum += f64::from(*n);
            sum >= share * total
        })
        .map_or(0.0, |v| v as f64)
}

/// The smallest piece that can be told from noise and measured, mm: five pixels or four times the
/// blur across, whichever is more.
pub(crate) fn smallest_mm(quality: &Quality, px_per_mm: f64) -> f64 {
    (4.0 * quality.blur_px).max(5.0) / px_per_mm
}

/// The sentences for a photo.
pub(crate) fn sentences(
    quality: &Quality,
    px_per_mm: f64,
    u_rel: f64,
    from: ScaleFrom,
) -> Vec<String> {
    let mut said = Vec::new();
    if quality.blur_px > BLURRED_PX {
        said.push("The photo is blurred: small pieces are lost. Hold still, tap to focus and take it again.".to_owned());
    }
    if quality.brightness < DARK {
        said.push(
            "The photo is dark: dark pieces may be lost. Bring a light and take it again."
                .to_owned(),
        );
    }
    if quality.glare > GLARE {
        said.push(format!(
            "Glare covers {:.0} % of the photo: nothing is seen there. Turn the light aside and take it again.",
            100.0 * quality.glare
        ));
    }
    if px_per_mm < FEW_PX_PER_MM {
        said.push(format!(
            "Only {px_per_mm:.1} pixels a millimetre: pieces under {:.1} mm can't be seen. Go nearer.",
            smallest_mm(quality, px_per_mm)
        ));
    }
    match from {
        ScaleFrom::Taps => said.push(
            "Scale from two taps: a tilt of the camera is not seen, sizes may be some 5 % off. Lay the gauge card in the picture.".to_owned(),
        ),
        ScaleFrom::Card if u_rel > UNSURE => said.push(format!(
            "The gauge card is seen badly: sizes may be {:.0} % off. Show all of the card, flat and clean.",
            165.0 * u_rel
        )),
        ScaleFrom::Card | ScaleFrom::None => {}
    }
    said
}

/// The sentence for a photo in which so many things stand out that some were not looked at.
pub(crate) fn too_many(left_out: usize) -> Option<String> {
    (left_out > 0).then(|| {
        format!(
            "Too much stands out in this photo: {left_out} of its fainter spots were not looked at. Take it again, in focus, on a clean paper."
        )
    })
}

/// The sentence for a card whose grey steps say nothing of the light.
pub(crate) const CARD_WASHED_OUT: &str = "Glare lies over the gauge card: the fluid's colour can't be read by it. Turn the light aside and take it again.";

#[cfg(test)]
mod tests {
    use super::*;

    /// A step from 40 to 200 across the picture, blurred by `sigma` px.
    fn step(sigma: f64) -> Upright {
        let value = |x: f64| 40.0 + 160.0 / (1.0 + (-1.702 * x / sigma).exp());
        let row: Vec<u8> = (0..200)
            .flat_map(|x| [value(f64::from(x) - 99.7).round() as u8; 3])
            .collect();
        Upright {
            width: 200,
            height: 80,
            rgb: row.repeat(80),
            lens: None,
        }
    }

    #[test]
    fn blur_of_a_known_step() {
        for sigma in [0.8, 1.5, 3.0] {
            let seen = quality(&step(sigma)).blur_px;
            assert!((seen / sigma - 1.0).abs() < 0.25, "{sigma}: {seen}");
        }
    }

    #[test]
    fn a_good_photo_has_no_limits_and_a_bad_one_says_each() {
        let good = Quality {
            blur_px: 0.9,
            brightness: 150.0,
            glare: 0.0,
        };
        assert!(sentences(&good, 20.0, 0.003, ScaleFrom::Card).is_empty());
        let bad = Quality {
            blur_px: 4.0,
            brightness: 12.0,
            glare: 0.1,
        };
        assert_eq!(sentences(&bad, 5.0, 0.05, ScaleFrom::Taps).len(), 5);
        assert_eq!(too_many(0), None);
        assert!(too_many(12).is_some_and(|said| said.contains("12 of its fainter spots")));
    }
}
