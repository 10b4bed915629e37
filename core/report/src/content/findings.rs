//! What was found.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, SizeClass};
use swarfbook_job::id::EntryId;
use swarfbook_wear::Band;

use super::{Fact, Fixed, Said, SizeMm};

/// The two sentences at the top.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// Can it be saved?
    pub can_it_be_saved: Said,
    /// What should I do?
    pub what_to_do: Said,
    /// What has to be known beside them: that the technician decided otherwise than the
    /// tool advises, and why; that the decision is older than the evidence; that counts
    /// are not confirmed.
    #[serde(default)]
    pub beside: Vec<Said>,
}

/// The wear score with its reasons.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WearSaid {
    /// 0 to 100.
    pub score: Fixed,
    /// Lower end of the 90 % interval.
    pub lo: Fixed,
    /// Upper end.
    pub hi: Fixed,
    /// The band of the score.
    pub band: Band,
    /// Where each band begins, from `clean` (0) to `failing`.
    pub band_from: [Fixed; 5],
    /// Heaviest first.
    pub reasons: Vec<ReasonSaid>,
    /// Distance and area that the debris is held against.
    pub held_against: Vec<Said>,
    /// What earlier visits of the car say, when there were any.
    pub trend: Vec<Said>,
    /// Those visits and this one, oldest first; none when there were no earlier ones.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub visits: Vec<VisitSaid>,
    /// Version of the hazard table: "hazard-1".
    pub table: String,
}

/// What one visit of the car had in its pan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VisitSaid {
    /// Its day: "2 Mar 2026".
    pub label: String,
    /// It is the visit that the report is of.
    pub now: bool,
    /// Pieces for the distance driven; `None` without a distance.
    pub rate: Option<VisitRate>,
    /// Day, pieces, distance and rate in words.
    pub said: Said,
}

/// Pieces in 10,000 km, with a 90 % interval (Garwood).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct VisitRate {
    /// Pieces in 10,000 km.
    pub per_10000_km: Fixed,
    /// Lower end.
    pub lo: Fixed,
    /// Upper end.
    pub hi: Fixed,
}

/// One reason for the score.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ReasonSaid {
    /// What it is, and what it comes from.
    pub said: Said,
    /// Its share of the whole, percent, rounded.
    pub percent: u8,
}

/// Pieces of one size class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SizeBar {
    /// The class of ISO 16232.
    pub size: SizeClass,
    /// "0.4 to 0.6 mm".
    pub label: String,
    /// Pieces in all, lint left out.
    pub n: u32,
    /// Lower end of the 90 % interval.
    pub lo: Fixed,
    /// Upper end.
    pub hi: Fixed,
    /// Pieces a class of debris, none that is zero.
    pub by_class: Vec<ClassPieces>,
    /// Pieces so small may be missed in at least one of the photos.
    #[serde(default)]
    pub below_seen: bool,
}

/// Pieces of one kind of debris, of all sizes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct KindSaid {
    /// What they are made of.
    pub class: DebrisClass,
    /// Pieces that were counted.
    pub n: u32,
    /// Lower end of the 90 % interval, whole pieces.
    pub lo: Fixed,
    /// Upper end.
    pub hi: Fixed,
    /// The largest of them; `None` where none has a size.
    pub largest: Option<SizeMm>,
    /// The line of the photo that shows it.
    pub photo: Option<EntryId>,
    /// Even the largest is so small that such pieces may be missed in at least one of the photos.
    #[serde(default)]
    pub below_seen: bool,
}

/// Pieces of one class of debris.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClassPieces {
    /// What they are made of.
    pub class: DebrisClass,
    /// How many.
    pub n: u32,
}

/// Codes before and after, and what is said of them.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CodesSaid {
    /// As the car came in; `None` when not read.
    pub before: Option<Vec<CodeSaid>>,
    /// After the work; `None` when not read.
    pub after: Option<Vec<CodeSaid>>,
    /// Whether what was found explains them.
    pub explained: Vec<Said>,
}

/// One code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CodeSaid {
    /// In its one form: "P0741".
    pub code: String,
    /// "stored" or "pending", and what its structure says.
    pub said: Said,
}

/// What was seen of the fluid.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct FluidSaid {
    /// Came out, went in, smell, look, level, each with its name.
    pub facts: Vec<Fact>,
    /// Colours as measured, and for comparison.
    pub swatches: Vec<Swatch>,
}

/// A colour with its name.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Swatch {
    /// "Yours", "Fresh, for comparison".
    pub label: String,
    /// The colour, sRGB.
    pub rgb: [u8; 3],
    /// In words, since a screen's colour is not to be trusted: "L 41, a 22, b 30".
    pub said: Said,
}

impl Swatch {
    /// The sRGB colour (IEC 61966-2-1) nearest to a colour of CIELAB under D65.
    pub fn rgb_of_lab([l, a, b]: [f64; 3]) -> [u8; 3] {
        let f = |t: f64| {
            if t > 6.0 / 29.0 {
                t.powi(3)
            } else {
                (t - 4.0 / 29.0) * 108.0 / 841.0
            }
        };
        let y = (l + 16.0) / 116.0;
        let (x, y, z) = (0.95047 * f(y + a / 500.0), f(y), 1.08883 * f(y - b / 200.0));
        [
            3.2406 * x - 1.5372 * y - 0.4986 * z,
            -0.9689 * x + 1.8758 * y + 0.0415 * z,
            0.0557 * x - 0.2040 * y + 1.0570 * z,
        ]
        .map(|light| {
            let light = light.clamp(0.0, 1.0);
            let value = if light <= 0.003_130_8 {
                12.92 * light
            } else {
                1.055 * light.powf(1.0 / 2.4) - 0.055
            };
            (value * 255.0).round() as u8
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Corners of sRGB in CIELAB under D65 (from memory, to two decimals).
    #[test]
    fn corners_of_srgb_are_met() {
        for (lab, rgb) in [
            ([0.0, 0.0, 0.0], [0, 0, 0]),
            ([100.0, 0.0, 0.0], [255, 255, 255]),
            ([53.24, 80.09, 67.20], [255, 0, 0]),
            ([87.73, -86.18, 83.18], [0, 255, 0]),
            ([32.30, 79.19, -107.86], [0, 0, 255]),
        ] {
            let found = Swatch::rgb_of_lab(lab);
            let near = found
                .iter()
                .zip(rgb)
                .all(|(a, b): (&u8, u8)| a.abs_diff(b) <= 1);
            assert!(near, "{lab:?}: {found:?}");
        }
    }
}
