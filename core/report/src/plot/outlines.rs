//! The census drawn over its photo.

use std::collections::BTreeMap;
use std::fmt::Write;

use swarfbook_job::census::DebrisClass;
use swarfbook_job::class_table::ClassRow;

use super::close_up::scale_bar;
use super::mark::strokes;
use super::svg::{at, escape};
use crate::content::{Outline, PhotoSaid};

/// The most pieces that get a letter; more would hide the photo.
const LETTERS: usize = 30;

/// Width of the picture in drawing units.
const WIDTH: f64 = 10_000.0;
const LETTER: f64 = 360.0;

/// The outlines as a layer over the photo, hidden from screen readers: the
/// table of counts says the same in words. A bar gives the scale where there is one.
/// Empty when there is neither.
pub fn outlines(photo: &PhotoSaid, id: &str) -> String {
    if photo.outlines.is_empty() && photo.px_per_mm.is_none() {
        return String::new();
    }
    let height = height_of(photo);
    let scale = [WIDTH / Outline::WHOLE, height / Outline::WHOLE];
    let mut svg = format!(
        "<svg class=\"outlines\" viewBox=\"0 0 {} {}\" preserveAspectRatio=\"none\" \
         aria-hidden=\"true\" xmlns=\"http://www.w3.org/2000/svg\">",
        at(WIDTH),
        at(height)
    );
    let mut by_class: BTreeMap<DebrisClass, String> = BTreeMap::new();
    for outline in &photo.outlines {
        by_class
            .entry(outline.class)
            .or_default()
            .push_str(&path_of(outline, scale));
    }
    let id = escape(id);
    for (class, path) in by_class {
        let row = ClassRow::of(class);
        let name = format!("{id}-{}", row.letter);
        // The path stands once and is used for each stroke: half the bytes.
        let _ = write!(
            svg,
            "<defs><path id=\"{name}\" d=\"{path}\" vector-effect=\"non-scaling-stroke\"/></defs>"
        );
        for stroke in strokes(&row) {
            let _ = write!(svg, "<use href=\"#{name}\" fill=\"none\" {stroke}/>");
        }
    }
    for (place, letter) in letters(photo, scale, height) {
        let [x, y] = place.map(at);
        let _ = write!(
            svg,
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\" font-size=\"{LETTER}\" font-weight=\"700\" \
             fill=\"#111\" stroke=\"#fff\" stroke-width=\"70\" stroke-linejoin=\"round\" \
             paint-order=\"stroke\">{letter}</text>"
        );
    }
    if let Some(px_per_mm) = photo.px_per_mm {
        let px_wide = f64::from(photo.size_px[0].max(1));
        let units_per_mm = px_per_mm.get() * WIDTH / px_wide;
        svg.push_str(&scale_bar(units_per_mm, [WIDTH, height], LETTER));
    }
    svg.push_str("</svg>");
    svg
}

/// How many pieces get a letter.
pub(crate) fn letters_of(photo: &PhotoSaid) -> usize {
    let height = height_of(photo);
    let scale = [WIDTH / Outline::WHOLE, height / Outline::WHOLE];
    letters(photo, scale, height).len()
}

fn height_of(photo: &PhotoSaid) -> f64 {
    let [width, height] = photo.size_px;
    WIDTH * f64::from(height.max(1)) / f64::from(width.max(1))
}

/// The outline in whole units, each corner from the one before it: a third of
/// the bytes of absolute corners with a decimal, and no error adds up.
fn path_of(outline: &Outline, [across, down]: [f64; 2]) -> String {
    let mut path = String::new();
    let mut last: Option<[i64; 2]> = None;
    for [x, y] in &outline.points {
        let here = [f64::from(*x) * across, f64::from(*y) * down].map(|at| at.round() as i64);
        let [x, y] = here;
        let _ = match last {
            None => write!(path, "M{x} {y}l"),
            Some([from_x, from_y]) => {
                let (right, below) = (x - from_x, y - from_y);
                let space = if path.ends_with('l') || right < 0 {
                    ""
                } else {
                    " "
                };
                let between = if below < 0 { "" } else { " " };
                write!(path, "{space}{right}{between}{below}")
            }
        };
        last = Some(here);
    }
    match last {
        // One corner alone: a dot is still drawn.
        Some(_) if path.ends_with('l') => path.push_str("0 0Z"),
        Some(_) => path.push('Z'),
        None => {}
    }
    path
}

/// The largest pieces first, each letter where no other stands.
fn letters(photo: &PhotoSaid, scale: [f64; 2], height: f64) -> Vec<([f64; 2], &'static str)> {
    let mut boxes: Vec<_> = photo
        .outlines
        .iter()
        .filter_map(|outline| Some((outline.class, bounds(outline, scale)?)))
        .collect();
    boxes.sort_by(|(_, a), (_, b)| b.longest().total_cmp(&a.longest()));
    let mut placed: Vec<([f64; 2], &'static str)> = Vec::new();
    for (class, bounds) in boxes {
        if placed.len() == LETTERS {
            break;
        }
        let place = bounds.beside(height);
        let free = placed.iter().all(|([x, y], _)| {
            (x - place[0]).abs() > LETTER * 0.9 || (y - place[1]).abs() > LETTER
        });
        if free {
            placed.push((place, ClassRow::of(class).letter));
        }
    }
    placed
}

struct Bounds {
    left: f64,
    right: f64,
    top: f64,
    bottom: f64,
}

impl Bounds {
    fn longest(&self) -> f64 {
        (self.right - self.left).max(self.bottom - self.top)
    }

    /// Beside the upper right corner, but inside the picture.
    fn beside(&self, height: f64) -> [f64; 2] {
        let x = if self.right + LETTER > WIDTH {
            self.left - LETTER * 0.5
        } else {
            self.right + LETTER * 0.5
        };
        [
            x.clamp(LETTER * 0.5, WIDTH - LETTER * 0.5),
            (self.top + LETTER * 0.2).clamp(LETTER, (height - 40.0).max(LETTER)),
        ]
    }
}

fn bounds(outline: &Outline, [across, down]: [f64; 2]) -> Option<Bounds> {
    let [x, y] = outline.points.first()?.map(f64::from);
    let first = Bounds {
        left: x * across,
        right: x * across,
        top: y * down,
        bottom: y * down,
    };
    Some(outline.points.iter().fold(first, |all, [x, y]| {
        let (x, y) = (f64::from(*x) * across, f64::from(*y) * down);
        Bounds {
            left: all.left.min(x),
            right: all.right.max(x),
            top: all.top.min(y),
            bottom: all.bottom.max(y),
        }
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_leads_through_every_corner() {
        let outline = Outline {
            class: DebrisClass::Grit,
            size: None,
            points: vec![[10, 20], [30, 15], [30, 40], [5, 40]],
        };
        assert_eq!(path_of(&outline, [1.0, 0.5]), "M10 10l20-2 0 12-25 0Z");
        let dot = Outline {
            points: vec![[10, 20]],
            ..outline
        };
        assert_eq!(path_of(&dot, [1.0, 1.0]), "M10 20l0 0Z");
    }
}
