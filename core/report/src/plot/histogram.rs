//! Pieces by size, one bar a size class, lying down so that a phone has room.

use super::svg::{Picture, short};
use crate::content::SizeBar;
use crate::words::Words;
use swarfbook_words::id;

const WIDTH: f64 = 320.0;
const ROW: f64 = 24.0;
const BARS: [f64; 2] = [112.0, 282.0];

/// The picture; empty when there are no bars.
pub fn histogram(bars: &[SizeBar], words: &Words, id: &str) -> String {
    if bars.is_empty() {
        return String::new();
    }
    let rows: Vec<String> = bars
        .iter()
        .map(|bar| {
            let (n, lo, hi) = (bar.n.to_string(), whole(bar.lo.get()), whole(bar.hi.get()));
            let label = marked(bar);
            let values = [
                ("label", label.as_str()),
                ("n", &n),
                ("lo", &lo),
                ("hi", &hi),
            ];
            words.fill(id!("report-sizes-row"), &values)
        })
        .collect();
    let desc = format!("{} {}", words.get(id!("report-sizes-desc")), rows.join(" "));
    let count = u32::try_from(bars.len()).map_or(0.0, f64::from);
    let mut picture = Picture::new(
        "sizes",
        id,
        [WIDTH, count * ROW + 6.0],
        words.get(id!("report-sizes-title")),
        &desc,
    );
    let most = bars
        .iter()
        .map(|bar| bar.hi.get().max(f64::from(bar.n)))
        .fold(1.0, f64::max);
    let mut middle = ROW / 2.0 + 3.0;
    for bar in bars {
        row(&mut picture, bar, middle, most);
        middle += ROW;
    }
    picture.line(
        [BARS[0], 2.0],
        [BARS[0], count * ROW + 4.0],
        "stroke=\"currentColor\" stroke-width=\"1.5\" fill=\"none\"",
    );
    picture.close()
}

fn row(picture: &mut Picture, bar: &SizeBar, y: f64, most: f64) {
    let place = |n: f64| BARS[0] + (BARS[1] - BARS[0]) * (n / most).clamp(0.0, 1.0);
    let text = "font-size=\"13\" fill=\"currentColor\"";
    picture.text(
        [BARS[0] - 6.0, y + 4.5],
        &format!("text-anchor=\"end\" {text}"),
        &short(&marked(bar), 18),
    );
    let (end, lo, hi) = (
        place(f64::from(bar.n)),
        place(bar.lo.get()),
        place(bar.hi.get()),
    );
    if bar.n > 0 {
        let width = super::svg::at(end - BARS[0]);
        picture.add(&format!(
            "<rect x=\"{}\" y=\"{}\" width=\"{width}\" height=\"14\" fill=\"currentColor\" \
             fill-opacity=\".3\" stroke=\"currentColor\" stroke-width=\"1.5\"/>",
            super::svg::at(BARS[0]),
            super::svg::at(y - 7.0)
        ));
    }
    let ink = "stroke=\"currentColor\" stroke-width=\"2\" fill=\"none\"";
    picture.line([lo, y], [hi, y], ink);
    for x in [lo, hi] {
        picture.line([x, y - 4.5], [x, y + 4.5], ink);
    }
    picture.text(
        [end.max(hi) + 7.0, y + 4.5],
        &format!("font-weight=\"700\" {text}"),
        &bar.n.to_string(),
    );
}

/// The size, with a mark where such pieces can't all be seen: as in the table beside it.
fn marked(bar: &SizeBar) -> String {
    let mark = if bar.below_seen { " *" } else { "" };
    format!("{}{mark}", bar.label)
}

fn whole(number: f64) -> String {
    format!("{number:.0}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::Fixed;
    use swarfbook_job::census::SizeClass;

    #[test]
    fn says_each_row_in_words() {
        let bar = SizeBar {
            size: SizeClass::I,
            label: "0.4 to 0.6 mm".into(),
            n: 12,
            lo: Fixed::new(7.7).unwrap(),
            hi: Fixed::new(19.4).unwrap(),
            by_class: Vec::new(),
            below_seen: false,
        };
        let words = Words::of("en");
        let small = SizeBar {
            below_seen: true,
            ..bar.clone()
        };
        let svg = histogram(&[small], &words, "h");
        assert!(svg.contains("0.4 to 0.6 mm *: 12"), "{svg}");
        assert!(svg.contains(">0.4 to 0.6 mm *<"), "{svg}");
        let svg = histogram(&[bar], &words, "h");
        assert!(svg.contains("0.4 to 0.6 mm: 12, likely 8 to 19."), "{svg}");
        assert_eq!(histogram(&[], &words, "h"), "");
    }
}
