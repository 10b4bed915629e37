//! Photos and the pieces outlined in them.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, PointPx};
use swarfbook_job::id::{EntryId, Sha256Hex};

use super::{Fixed, Said};

/// JPEG bytes of the report's copies, by their own SHA-256 ([`PhotoSaid::copy`]).
/// Re-encoded, upright, without EXIF, about 1200 px on the long side.
pub type Photos = BTreeMap<Sha256Hex, Vec<u8>>;

/// The most that a copy may weigh, so that a report with twelve stays under 3 MB.
pub const PHOTO_BUDGET_BYTES: usize = 138_000;

/// A photo with what is said of it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PhotoSaid {
    /// The line that took it.
    pub entry: EntryId,
    /// SHA-256 of the original, as the log names it.
    pub photo: Sha256Hex,
    /// SHA-256 of the report's copy; `None` when its bytes are not at hand or damaged,
    /// which one of the limits says.
    pub copy: Option<Sha256Hex>,
    /// Width and height of the upright picture, px (any size of the same shape).
    pub size_px: [u32; 2],
    /// A few words: "The pan, before wiping".
    pub title: String,
    /// What it shows, for who can't see it.
    pub alt: String,
    /// It was drawn by a renderer, not taken by a camera; the report says so.
    pub rendered: bool,
    /// What was read from it.
    pub said: Vec<Said>,
    /// Pieces a class, with 90 % intervals in whole pieces; lint, which is no debris, last.
    pub counts: Vec<PieceCount>,
    /// The pieces, corrections applied, lint and what is no debris left out or in as shown.
    pub outlines: Vec<Outline>,
    /// What this photo can't show.
    pub limits: Vec<String>,
    /// Pixels of `size_px` that are a millimetre, for the bar in the picture; `None` without
    /// a scale.
    #[serde(default)]
    pub px_per_mm: Option<Fixed>,
    /// Where the scale comes from, what is known of lens and distance, and the machine's
    /// own count beside that which the technician corrected.
    #[serde(default)]
    pub evidence: Vec<Said>,
}

/// The same patch before and after a magnet was passed over it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pair {
    /// The line of the photo before; one of the photos.
    pub before: EntryId,
    /// The line of the photo after; one of the photos.
    pub after: EntryId,
    /// What the difference says.
    pub said: Said,
    /// The pieces of the photo before by what became of them, the sum last; empty where
    /// the two could not be held against each other.
    #[serde(default)]
    pub rows: Vec<PairRow>,
}

/// Pieces of the photo before the magnet, by what became of them: `went`, `stayed` and
/// `untold` add up to `n`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairRow {
    /// Which pieces: "2 mm and more".
    pub label: String,
    /// How many.
    pub n: u32,
    /// The magnet took them: iron or steel.
    pub went: u32,
    /// They stayed.
    pub stayed: u32,
    /// The photo after can't tell.
    pub untold: u32,
}

/// How many pieces of one class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PieceCount {
    /// What they are made of.
    pub class: DebrisClass,
    /// Pieces that were counted.
    pub n: u32,
    /// Lower end of the 90 % interval.
    pub lo: Fixed,
    /// Upper end.
    pub hi: Fixed,
}

/// Greatest length of a piece with its 90 % interval, mm.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SizeMm {
    /// Length (Feret maximum), mm.
    pub mm: Fixed,
    /// Lower end, mm.
    pub lo: Fixed,
    /// Upper end, mm.
    pub hi: Fixed,
}

/// The outline of one piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outline {
    /// What it is, corrections applied.
    pub class: DebrisClass,
    /// Its length; `None` without a scale.
    pub size: Option<SizeMm>,
    /// Corners in ten-thousandths of the picture's width and height, closed
    /// without repeating the first.
    pub points: Vec<[u16; 2]>,
}

impl Outline {
    /// Parts of the picture's width and height that make the whole.
    pub const WHOLE: f64 = 10_000.0;

    /// An outline from pixels of a picture of `size_px`; corners outside the
    /// picture are moved onto its edge, corners that nearly fall together (a
    /// pixel of a 1200 px picture, less for a small piece) are one.
    pub fn from_px(
        class: DebrisClass,
        size: Option<SizeMm>,
        outline_px: &[PointPx],
        size_px: [u32; 2],
    ) -> Outline {
        let part = |at: f64, whole: u32| {
            let part = at / f64::from(whole.max(1)) * Self::WHOLE;
            // `as` would do for numbers, but a NaN must not become a corner.
            if part.is_finite() {
                part.round().clamp(0.0, Self::WHOLE) as u16
            } else {
                0
            }
        };
        let [width, height] = size_px;
        let mut points: Vec<[u16; 2]> = outline_px
            .iter()
            .map(|[x, y]| [part(*x, width), part(*y, height)])
            .collect();
        thin(&mut points);
        if points.len() > 1 && points.first() == points.last() {
            points.pop();
        }
        Outline {
            class,
            size,
            points,
        }
    }
}

/// Leaves out corners too near to the one kept before them to be seen.
fn thin(points: &mut Vec<[u16; 2]>) {
    let span = |axis: fn(&[u16; 2]) -> u16| {
        let (least, most) = points
            .iter()
            .map(axis)
            .fold((u16::MAX, 0), |(a, b), at| (a.min(at), b.max(at)));
        most.saturating_sub(least)
    };
    let near = (span(|[x, _]| *x).max(span(|[_, y]| *y)) / 24).min(8);
    points.dedup_by(|next, kept| {
        next[0].abs_diff(kept[0]) <= near && next[1].abs_diff(kept[1]) <= near
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_outline_is_parts_of_the_picture() {
        let outline = Outline::from_px(
            DebrisClass::Grit,
            None,
            &[
                [0.0, 0.0],
                [100.0, 0.0],
                [100.004, 0.0],
                [-5.0, 60.0],
                [0.0, 0.0],
            ],
            [200, 50],
        );
        assert_eq!(outline.points, [[0, 0], [5000, 0], [0, 10_000]]);
    }
}
