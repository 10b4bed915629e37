//! The census drawn over its photo.

use std::collections::BTreeMap;
use std::fmt::Write;

use swarfbook_job::census::DebrisClass;

use super::mark::Mark;
use super::svg::{at, escape};
use crate::content::{Outline, PhotoSaid};

/// The most pieces that get a letter; more would hide the photo.
const LETTERS: usize = 30;

/// Width of the picture in drawing units.
const WIDTH: f64 = 1000.0;
const LETTER: f64 = 30.0;

/// The outlines as a layer over the photo, hidden from screen readers: the
/// table of counts says the same in words. Empty when there is none.
pub fn outlines(photo: &PhotoSaid, id: &str) -> String {
    if photo.outlines.is_empty() {
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
        let mark = Mark::of(class);
        let name = format!("{id}-{}", mark.letter);
        // The path stands once and is used for each stroke: half the bytes.
        let _ = write!(
            svg,
            "<defs><path id=\"{name}\" d=\"{path}\" vector-effect=\"non-scaling-stroke\"/></defs>"
        );
        for stroke in mark.strokes() {
            let _ = write!(svg, "<use href=\"#{name}\" fill=\"none\" {stroke}/>");
        }
    }
    for (place, letter) in letters(photo, scale, height) {
        let [x, y] = place.map(at);
        let _ = write!(
            svg,
            "<text x=\"{x}\" y=\"{y}\" text-anchor=\"middle\" font-size=\"{LETTER}\" font-weight=\"700\" \
             fill=\"#111\" stroke=\"#fff\" stroke-width=\"7\" stroke-linejoin=\"round\" \
             paint-order=\"stroke\">{letter}</text>"
        );
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

fn path_of(outline: &Outline, [across, down]: [f64; 2]) -> String {
    let mut path = String::new();
    for (corner, [x, y]) in outline.points.iter().enumerate() {
        let pen = if corner == 0 { 'M' } else { 'L' };
        let _ = write!(
            path,
            "{pen}{} {}",
            at(f64::from(*x) * across),
            at(f64::from(*y) * down)
        );
    }
    if !path.is_empty() {
        path.push('Z');
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
            placed.push((place, Mark::of(class).letter));
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
            (self.top + LETTER * 0.2).clamp(LETTER, (height - 4.0).max(LETTER)),
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
