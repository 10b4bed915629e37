//! What `examples/fit_classes` needs to grow the trees; not for callers.

use swarfbook_job::census::{Census, PhotoHints, PhotoKind};

use crate::plane::plane_of;
use crate::reading::{Look, Seen, read_with};
use crate::{Settings, Upright};

pub use crate::eye::Finder;
pub use crate::net::Unusable;
pub use crate::particle::{
    Boosted, LengthForest, Node, OUTCOMES, PieceTrees, PixelTrees, Sights, Trees, adding,
    length_leaf,
};
pub use crate::reading::Judges;

/// One piece before it is judged.
#[derive(Debug, Clone)]
pub struct Sample {
    /// Centre, px.
    pub centre_px: [f64; 2],
    /// Feret maximum, mm.
    pub feret_max_mm: f64,
    /// Its looks, in the order of [`names`].
    pub looks: Vec<f32>,
}

/// SHA-256 of the file of the finder that ships: figures by another can't be learned from beside its own.
pub fn finder_sha256() -> String {
    Finder::built_in_sha256().to_string()
}

/// Names of the looks.
pub fn names() -> &'static [&'static str] {
    &crate::particle::NAMES
}

/// The first of the looks, which hang on nothing that the finder says.
pub const OWN_LOOKS: usize = crate::particle::OWN;

/// A pixel of a candidate: its place, px, and its figures.
pub type Pixel = ([f64; 2], Vec<f32>);

/// A photo searched once, to learn from.
pub struct Lesson {
    look: Option<Look>,
    kind: PhotoKind,
    hints: PhotoHints,
    /// px per mm at the picture's centre.
    pub px_per_mm: f64,
}

impl Lesson {
    /// Searches a photo.
    pub fn new(picture: &Upright, hints: &PhotoHints, kind: PhotoKind, finder: &Finder) -> Lesson {
        let plane = plane_of(picture, hints, kind);
        Lesson {
            look: Some(plane.px_per_mm)
                .filter(|s| *s > 0.0)
                .and_then(|_| Look::new(picture, &plane, kind, hints, finder)),
            kind,
            hints: hints.clone(),
            px_per_mm: plane.px_per_mm,
        }
    }

    /// At most so many pixels of each proposal, at first sight or at second by the first trees.
    pub fn pixels(
        &self,
        picture: &Upright,
        first: Option<&PixelTrees>,
        most: usize,
    ) -> Vec<Vec<Pixel>> {
        let look = self.look.as_ref();
        look.map_or_else(Vec::new, |look| look.pixels(picture, first, most))
    }

    /// All pieces, particles or not.
    pub fn pieces(&self, picture: &Upright, pixels: &Sights) -> Vec<Sample> {
        let look = self.look.as_ref();
        let all = look.map(|look| look.pieces(picture, self.kind, &self.hints, pixels));
        let sample = |s: Seen| Sample {
            centre_px: s.measured.centre_px,
            feret_max_mm: s.measured.feret.max,
            looks: s.looks.to_vec(),
        };
        all.into_iter().flatten().map(sample).collect()
    }
}

/// Reads a picture with given judges.
pub fn read_by(
    judges: &Judges,
    picture: &Upright,
    hints: &PhotoHints,
    settings: &Settings,
) -> Census {
    read_with(judges, picture, hints, settings)
}
