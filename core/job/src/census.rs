//! What one photo says about debris: the words and shapes that `debris`
//! produces, the log keeps, and `wear`, `report` and the screens read.
//!
//! Pixels are of the upright picture (EXIF orientation applied), origin at the
//! outer corner of the top left pixel. Lengths are millimetres in the plane of
//! the subject. Intervals are 90 %.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use crate::class_table::DebrisClass;

/// A point of the upright picture, in pixels.
pub type PointPx = [f64; 2];

/// What the photo shows, which decides how it is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PhotoKind {
    /// Residue on white lint-free paper.
    Patch,
    /// The pan as it came down.
    Pan,
    /// A pan magnet, before wiping.
    Magnet,
}

/// Length classes of ISO 16232:2018 by Feret maximum, lower limit inclusive.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
pub enum SizeClass {
    /// 5 to 15 µm.
    B,
    /// 15 to 25 µm.
    C,
    /// 25 to 50 µm.
    D,
    /// 50 to 100 µm.
    E,
    /// 100 to 150 µm.
    F,
    /// 150 to 200 µm.
    G,
    /// 200 to 400 µm.
    H,
    /// 400 to 600 µm.
    I,
    /// 600 to 1000 µm.
    J,
    /// 1000 to 1500 µm.
    K,
    /// 1500 to 2000 µm.
    L,
    /// 2000 to 3000 µm.
    M,
    /// 3000 µm and more.
    N,
}

impl SizeClass {
    /// Each class with its lower limit in µm (ISO 16232:2018 / VDA 19.1:2015).
    pub const LOWER_LIMITS_UM: [(SizeClass, f64); 13] = [
        (SizeClass::B, 5.0),
        (SizeClass::C, 15.0),
        (SizeClass::D, 25.0),
        (SizeClass::E, 50.0),
        (SizeClass::F, 100.0),
        (SizeClass::G, 150.0),
        (SizeClass::H, 200.0),
        (SizeClass::I, 400.0),
        (SizeClass::J, 600.0),
        (SizeClass::K, 1000.0),
        (SizeClass::L, 1500.0),
        (SizeClass::M, 2000.0),
        (SizeClass::N, 3000.0),
    ];

    /// The class of a Feret maximum in millimetres; `None` below 5 µm or not a number.
    pub fn of_feret_max_mm(feret_max_mm: f64) -> Option<SizeClass> {
        let um = feret_max_mm * 1000.0;
        Self::LOWER_LIMITS_UM
            .iter()
            .rev()
            .find(|(_, lower_um)| um >= *lower_um)
            .map(|(class, _)| *class)
    }
}

/// Where a photo's scale came from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ScaleFrom {
    /// The gauge card in the picture.
    Card,
    /// Two taps on a known length.
    Taps,
    /// No scale: shares only, no sizes.
    None,
}

/// Pixels per millimetre at the picture's centre, in the ground's plane.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Scale {
    /// Pixels per millimetre; 0 when `from` is `none`.
    pub px_per_mm: f64,
    /// Relative standard uncertainty of the scale.
    pub u_rel: f64,
    /// Where it came from.
    pub from: ScaleFrom,
}

/// The gauge card as found.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CardFound {
    /// Outline corners as printed: top left, top right, bottom right, bottom left.
    pub corners_px: [PointPx; 4],
}

/// One piece of debris.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Particle {
    /// Centre of area, px.
    pub x_px: f64,
    /// Centre of area, px.
    pub y_px: f64,
    /// The most likely class.
    pub class: DebrisClass,
    /// Probability of each class that is not negligible; sums to about 1.
    pub p: BTreeMap<DebrisClass, f64>,
    /// Greatest distance of parallel tangents, mm (along the length for a fibre).
    pub feret_max_mm: f64,
    /// Lower end of its 90 % interval, mm.
    pub feret_max_lo: f64,
    /// Upper end of its 90 % interval, mm.
    pub feret_max_hi: f64,
    /// Smallest distance of parallel tangents, mm.
    pub feret_min_mm: f64,
    /// Projected area, mm².
    pub area_mm2: f64,
    /// Length class of ISO 16232.
    pub iso16232: SizeClass,
    /// Outline, px, closed without repeating the first point.
    pub outline_px: Vec<PointPx>,
    /// Probability that it is a piece of debris at all; the classes' are given that it is one. Logs of
    /// before it was told have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub real: Option<f64>,
}

/// How sure a piece is, 0 to 1: the probability that it is one (1 where nothing is told of
/// that), times that of its class given that it is.
pub fn sureness(class: DebrisClass, p: &BTreeMap<DebrisClass, f64>, real: Option<f64>) -> f64 {
    p.get(&class).copied().unwrap_or(0.0) * real.unwrap_or(1.0)
}

/// A count with its 90 % interval (Garwood, widened by doubt about classes).
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Count {
    /// Pieces counted.
    pub n: u32,
    /// Lower end.
    pub lo: f64,
    /// Upper end.
    pub hi: f64,
}

/// How much of a magnet's face is covered, as a share 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct MagnetCover {
    /// Share covered.
    pub cover: f64,
    /// Lower end of the 90 % interval.
    pub cover_lo: f64,
    /// Upper end of the 90 % interval.
    pub cover_hi: f64,
}

/// Colour of a drop of fluid on the paper.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct FluidColour {
    /// CIELAB, D65, after white balance.
    pub lab: [f64; 3],
    /// Standard uncertainty as a CIEDE2000 difference.
    pub u_de: f64,
}

/// What one photo says. `problem` is set when it can't be read at all; the
/// other fields are then empty.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Census {
    /// What the photo was read as.
    pub kind: PhotoKind,
    /// Width and height of the upright picture; `None` when it can't be decoded.
    pub size_px: Option<[u32; 2]>,
    /// Why nothing could be read, and what to do, in the technician's words.
    pub problem: Option<String>,
    /// What this photo can't show, and what to do, in the technician's words.
    #[serde(default)]
    pub limits: Vec<String>,
    /// The gauge card, when it is in the picture.
    pub card: Option<CardFound>,
    /// The scale, when there is one.
    pub scale: Option<Scale>,
    /// The smallest particle that this photo can show, mm.
    pub smallest_mm: Option<f64>,
    /// Area of ground that was searched, cm² (for rates per area).
    #[serde(default)]
    pub searched_cm2: Option<f64>,
    /// The pieces found.
    pub particles: Vec<Particle>,
    /// Pieces a class.
    pub counts: BTreeMap<DebrisClass, Count>,
    /// Magnet cover, when a magnet was asked for.
    pub magnet: Option<MagnetCover>,
    /// Fluid colour, when it was asked for.
    pub fluid: Option<FluidColour>,
    /// How unlike the photo is to those that the reading was learned from: the share of those that are
    /// less unusual, 0 to 1. Logs of before it was told have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unusual: Option<f64>,
    /// Share of the pieces' expected number that may be none, 0 to 1: how much the count hangs on
    /// doubtful pieces. Nothing where no piece was found.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub doubt: Option<f64>,
    /// What the pieces' class probabilities were calibrated by when the count was made; nothing where they are the
    /// machine's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibration: Option<Calibration>,
    /// What the photo's file says of the lens. Logs of before it was kept have none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lens: Option<Lens>,
}

/// The lens that a photo was taken with, as its file says it (EXIF). Which camera it was is not kept.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Lens {
    /// Focal length, mm.
    pub focal_mm: Option<f64>,
    /// The same as for a frame of 36 x 24 mm, mm.
    pub focal_35mm: Option<f64>,
}

/// Numbers that bring class probabilities nearer to what a shop's technicians confirmed: `p` becomes `p^(1/temperature)
/// exp(bias)`, made to add up to one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Calibration {
    /// Above 1: the machine was too sure of classes; below, not sure enough.
    pub temperature: f64,
    /// Added to the natural logarithm of a class's probability.
    pub bias: BTreeMap<DebrisClass, f64>,
    /// How many confirmed pieces they were learned from.
    pub pieces: u32,
}

/// From this share on a photo is told to be far off from what was learned: one in a hundred of the
/// photos that were learned from is.
pub const FAR_OFF: f64 = 0.99;

impl Census {
    /// Whether the photo is so unlike those that the reading was learned from that its pieces are to be
    /// looked at before anything follows from them.
    pub fn is_far_off(&self) -> bool {
        self.unusual.is_some_and(|share| share >= FAR_OFF)
    }

    /// From the lens to the middle of the ground, mm, as far as focal length and scale tell it:
    /// so many pixels of focal length, over those of a millimetre.
    pub fn distance_mm(&self) -> Option<f64> {
        let scale = self.scale.as_ref().filter(|s| s.from != ScaleFrom::None)?;
        let [width, height] = self.size_px?;
        let focal_mm = self.lens?.focal_35mm?;
        let focal_px = focal_mm / 36.0 * f64::from(width.max(height));
        let distance = focal_px / scale.px_per_mm;
        distance.is_finite().then_some(distance)
    }
}

/// What a technician tapped or measured to help the reading of a photo.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default, deny_unknown_fields)]
pub struct PhotoHints {
    /// What the photo shows, when it is not said otherwise.
    #[serde(rename = "as", skip_serializing_if = "Option::is_none")]
    pub kind: Option<PhotoKind>,
    /// A point on the drop of fluid.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fluid_at: Option<PointPx>,
    /// A point on the magnet's face.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub subject_at: Option<PointPx>,
    /// Height of the subject above the card's plane, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub subject_height_mm: Option<f64>,
    /// Two points a known length apart.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taps: Option<[PointPx; 2]>,
    /// That length, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tap_mm: Option<f64>,
    /// Height of the taps' plane above the ground, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taps_height_mm: Option<f64>,
    /// The plane that the taps lie in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub taps_on: Option<TapsOn>,
}

/// The plane that the two taps lie in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TapsOn {
    /// The paper or the pan's floor.
    Ground,
    /// The magnet's face.
    Subject,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 27 mm as for 36 mm over 4000 px are 3000 px of focal length, so that 15 px a
    /// millimetre are 200 mm away.
    #[test]
    fn the_distance_follows_from_lens_and_scale() {
        let mut census: Census = serde_json::from_value(serde_json::json!({
            "kind": "patch", "size_px": [3000, 4000], "problem": null, "card": null,
            "scale": { "px_per_mm": 15.0, "u_rel": 0.01, "from": "card" }, "smallest_mm": null,
            "particles": [], "counts": {}, "magnet": null, "fluid": null,
            "lens": { "focal_mm": null, "focal_35mm": 27.0 },
        }))
        .unwrap();
        assert_eq!(census.distance_mm(), Some(200.0));
        census.lens = Some(Lens {
            focal_mm: Some(4.2),
            focal_35mm: None,
        });
        assert_eq!(census.distance_mm(), None);
    }
}
