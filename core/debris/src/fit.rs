//! What `examples/fit_classes.rs` needs to grow the forest; not for callers.

use swarfbook_job::census::{Census, PhotoHints};

use crate::plane::plane_of;
use crate::reading::{read_with, seen};
use crate::{Settings, Upright};

pub use crate::particle::{Forest, Node};

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

/// Names of the looks.
pub fn names() -> &'static [&'static str] {
    &crate::particle::NAMES
}

/// All pieces of a photo, particles or not, and its px per mm.
pub fn samples(picture: &Upright, hints: &PhotoHints, settings: &Settings) -> (Vec<Sample>, f64) {
    let plane = plane_of(picture, hints, settings.kind);
    if plane.px_per_mm <= 0.0 {
        return (Vec::new(), 0.0);
    }
    let all = seen(picture, &plane, settings.kind, hints).0;
    let samples = all.into_iter().map(|s| Sample {
        centre_px: s.measured.centre_px,
        feret_max_mm: s.measured.feret.max,
        looks: s.looks.to_vec(),
    });
    (samples.collect(), plane.px_per_mm)
}

/// Reads a picture with a given forest.
pub fn read_by(
    forest: &Forest,
    picture: &Upright,
    hints: &PhotoHints,
    settings: &Settings,
) -> Census {
    read_with(forest, picture, hints, settings)
}
