//! One piece in a picture of its own: its outline, and a bar that gives the scale.

use std::fmt::Write;

use super::svg::at;
use crate::content::{CloseUp, Outline};

/// Width of the picture in drawing units.
const WIDTH: f64 = 1000.0;
/// Lengths that a bar can have, mm: 1, 2 and 5 of each power of ten.
const BARS_MM: [f64; 11] = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0];

/// The layer over a close-up; hidden from screen readers, since the words beside it say the same.
pub fn close_up(one: &CloseUp) -> String {
    let [wide, high] = one.size_px.map(|side| f64::from(side.max(1)));
    let height = WIDTH * high / wide;
    let mut svg = format!(
        "<svg class=\"outlines\" viewBox=\"0 0 {} {}\" preserveAspectRatio=\"none\" \
         aria-hidden=\"true\" xmlns=\"http://www.w3.org/2000/svg\">",
        at(WIDTH),
        at(height)
    );
    let mut path = String::new();
    for (n, [x, y]) in one.points.iter().enumerate() {
        let x = f64::from(*x) / Outline::WHOLE * WIDTH;
        let y = f64::from(*y) / Outline::WHOLE * height;
        let pen = if n == 0 { 'M' } else { 'L' };
        let _ = write!(path, "{pen}{} {}", at(x), at(y));
    }
    if !path.is_empty() {
        for (colour, width) in [("#fff", 13), ("#111", 5)] {
            let _ = write!(
                svg,
                "<path d=\"{path}Z\" fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\" \
                 stroke-linejoin=\"round\"/>"
            );
        }
    }
    if let Some(px_per_mm) = one.px_per_mm {
        svg.push_str(&scale_bar(
            px_per_mm.get() * WIDTH / wide,
            [WIDTH, height],
            78.0,
        ));
    }
    svg.push_str("</svg>");
    svg
}

/// A bar of a round length at the lower left, on a light ground; `letters` is the size of its
/// words. Empty where no round length fits.
pub(super) fn scale_bar(units_per_mm: f64, [width, height]: [f64; 2], letters: f64) -> String {
    let fits = |mm: &&f64| **mm * units_per_mm <= width * 0.3;
    let Some(mm) = BARS_MM.iter().rev().find(fits) else {
        return String::new();
    };
    let long = mm * units_per_mm;
    if long < width * 0.02 {
        return String::new();
    }
    let (margin, thick) = (letters * 0.45, letters * 0.2);
    let words = format!("{} mm", swarfbook_measure::unit::show_number(*mm));
    let box_wide = long.max(letters * 0.66 * words.chars().count() as f64) + 2.0 * margin;
    let box_high = letters * 1.9;
    let (left, top) = (margin, height - box_high - margin);
    format!(
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#fff\"/>\
         <rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"#111\"/>\
         <text x=\"{}\" y=\"{}\" font-size=\"{}\" font-weight=\"700\" fill=\"#111\">{words}</text>",
        at(left),
        at(top),
        at(box_wide),
        at(box_high),
        at(left + margin),
        at(top + box_high - margin - thick),
        at(long),
        at(thick),
        at(left + margin),
        at(top + letters * 1.0),
        at(letters)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::Fixed;
    use swarfbook_job::census::DebrisClass;
    use swarfbook_job::id::{EntryId, Sha256Hex};

    fn one(px_per_mm: Option<f64>) -> CloseUp {
        CloseUp {
            photo: EntryId(uuid::Uuid::from_u128(1)),
            copy: Sha256Hex::of(b"x"),
            size_px: [200, 200],
            px_per_mm: px_per_mm.map(|n| Fixed::new(n).unwrap()),
            class: DebrisClass::Grit,
            size: None,
            points: vec![[0, 0], [10_000, 0], [5000, 10_000]],
        }
    }

    /// 20 px a millimetre in a picture of 200 px: a bar of 2 mm takes a fifth of it.
    #[test]
    fn the_bar_is_as_long_as_it_says() {
        let svg = close_up(&one(Some(20.0)));
        assert!(svg.contains(">2 mm</text>"), "{svg}");
        assert!(svg.contains("width=\"200\""), "{svg}");
    }

    #[test]
    fn without_a_scale_there_is_no_bar() {
        let svg = close_up(&one(None));
        assert!(!svg.contains("mm</text>") && svg.contains("<path"), "{svg}");
    }
}
