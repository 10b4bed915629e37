//! What `examples/ask_debris` needs to hold the inner functions against other
//! libraries (`tests/outside/debris.py`); not for callers.

use crate::find::label::components_of;
use crate::particle::outline::{simplify, trace};
use crate::particle::shape::{feret, hull, perimeter, polygon_area};
use crate::plane::Homography;

/// Figures of the first piece of a mask, px.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct Shape {
    /// Area within the outline, holes filled, px².
    pub area: f64,
    /// Area within the thinned outline, px².
    pub thinned_area: f64,
    /// Length of the thinned outline.
    pub perimeter: f64,
    /// Feret diameters of the convex hull.
    pub feret_max: f64,
    /// The smaller one.
    pub feret_min: f64,
    /// Area of the convex hull, px².
    pub hull_area: f64,
}

/// Measures the first piece of a mask (set is not zero).
pub fn shape(mask: &[u8], width: usize) -> Shape {
    let outline = trace(mask, width);
    let thinned = simplify(&outline);
    let around = hull(&outline);
    let feret = feret(&around);
    Shape {
        area: polygon_area(&outline),
        thinned_area: polygon_area(&thinned),
        perimeter: perimeter(&thinned),
        feret_max: feret.max,
        feret_min: feret.min,
        hull_area: polygon_area(&around),
    }
}

/// Area and box (left, top, right, bottom, the last two not included) of each component of a mask.
pub fn components(mask: &[u8], width: usize) -> Vec<[u64; 5]> {
    components_of(mask, width)
        .iter()
        .map(|c| [c.area, c.x0.into(), c.y0.into(), c.x1.into(), c.y1.into()])
        .collect()
}

/// The map of four places to four others, row by row; `None` where three lie on a line.
pub fn homography(from: &[[f64; 2]; 4], to: &[[f64; 2]; 4]) -> Option<[[f64; 3]; 3]> {
    Homography::from_four(from, to).map(|h| h.m)
}
