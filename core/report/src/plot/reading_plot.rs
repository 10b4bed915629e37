//! A reading beside its limits: the bar is what is allowed, the mark is what
//! was read, the line through it how far off it may be.

use swarfbook_measure::unit::show_number;
use swarfbook_words::id;

use super::svg::{Picture, short};
use crate::content::{Plot, ReadingVerdict};
use crate::words::Words;

const WIDTH: f64 = 320.0;
const HEIGHT: f64 = 74.0;
const AXIS_Y: f64 = 38.0;
const ENDS: [f64; 2] = [14.0, 306.0];
const INK: &str = "stroke=\"currentColor\" fill=\"none\"";

/// The picture; `None` when there is neither limit nor value to draw.
pub fn reading_plot(
    plot: &Plot,
    verdict: ReadingVerdict,
    words: &Words,
    id: &str,
) -> Option<String> {
    let axis = Axis::of(plot)?;
    let mut picture = Picture::new(
        "reading",
        id,
        [WIDTH, HEIGHT],
        words.get(id!("report-plot-title")),
        &describe(plot, verdict, words),
    );
    picture.line(
        [ENDS[0], AXIS_Y],
        [ENDS[1], AXIS_Y],
        &format!("{INK} stroke-width=\"1\""),
    );
    allowed(&mut picture, plot, &axis);
    limit_labels(&mut picture, plot, &axis);
    value(&mut picture, plot, verdict, &axis, words);
    Some(picture.close())
}

/// From a number to a place; what lies far off is held at the edge.
struct Axis {
    from: f64,
    to: f64,
}

impl Axis {
    fn of(plot: &Plot) -> Option<Axis> {
        let [low, high, value, u] = numbers(plot);
        let ends: Vec<f64> = [low, high].into_iter().flatten().collect();
        let first = ends.first().copied().or(value)?;
        let (least, most) = ends
            .iter()
            .fold((first, first), |(a, b), end| (a.min(*end), b.max(*end)));
        let width = match most - least {
            width if width > 0.0 => width,
            _ if first != 0.0 => first.abs(),
            _ => 1.0,
        };
        // Three widths to either side: farther off is far off.
        let value = value.unwrap_or(most + 3.0 * width);
        let u = u.unwrap_or(0.0);
        let from = least.min((value - u).max(least - 3.0 * width));
        let to = most.max((value + u).min(most + 3.0 * width));
        let margin = (0.5 * width).max(0.12 * (to - from));
        Some(Axis {
            from: from - margin,
            to: to + margin,
        })
    }

    fn place(&self, number: f64) -> f64 {
        let share = (number - self.from) / (self.to - self.from);
        ENDS[0] + (ENDS[1] - ENDS[0]) * share.clamp(0.0, 1.0)
    }

    fn off(&self, number: f64) -> bool {
        number > self.to || number < self.from
    }
}

fn numbers(plot: &Plot) -> [Option<f64>; 4] {
    [plot.low, plot.high, plot.value, plot.expanded_u].map(|number| number.map(|n| n.get()))
}

fn allowed(picture: &mut Picture, plot: &Plot, axis: &Axis) {
    let [low, high, ..] = numbers(plot);
    if low.is_none() && high.is_none() {
        return;
    }
    let left = low.map_or(ENDS[0], |low| axis.place(low));
    let right = high.map_or(ENDS[1], |high| axis.place(high));
    let (top, bottom) = (AXIS_Y - 9.0, AXIS_Y + 9.0);
    picture.line(
        [left, AXIS_Y],
        [right, AXIS_Y],
        "stroke=\"currentColor\" stroke-opacity=\".16\" stroke-width=\"18\" fill=\"none\"",
    );
    for x in [low.map(|_| left), high.map(|_| right)]
        .into_iter()
        .flatten()
    {
        picture.line(
            [x, top - 3.0],
            [x, bottom + 3.0],
            &format!("{INK} stroke-width=\"2.5\""),
        );
    }
    // Top and bottom edge, so that the bar shows in a poor copy too.
    for y in [top, bottom] {
        picture.line([left, y], [right, y], &format!("{INK} stroke-width=\"1\""));
    }
}

fn limit_labels(picture: &mut Picture, plot: &Plot, axis: &Axis) {
    let [low, high, ..] = numbers(plot);
    let close = match (low, high) {
        (Some(low), Some(high)) => axis.place(high) - axis.place(low) < 60.0,
        _ => false,
    };
    for (limit, anchor) in [(low, "end"), (high, "start")] {
        let Some(limit) = limit else { continue };
        let x = axis.place(limit);
        let anchor = match (close, x) {
            (true, _) => anchor,
            (false, x) if x < 40.0 => "start",
            (false, x) if x > WIDTH - 40.0 => "end",
            _ => "middle",
        };
        picture.text(
            [x, 67.0],
            &format!("text-anchor=\"{anchor}\" font-size=\"13\" fill=\"currentColor\""),
            &show_number(limit),
        );
    }
}

fn value(picture: &mut Picture, plot: &Plot, verdict: ReadingVerdict, axis: &Axis, words: &Words) {
    let [_, _, value, u] = numbers(plot);
    let Some(value) = value else {
        arrow(picture, ENDS[1], 1.0);
        label(picture, ENDS[1], words.get(id!("report-plot-open")));
        return;
    };
    let x = axis.place(value);
    if axis.off(value) {
        arrow(picture, x, if value > axis.to { 1.0 } else { -1.0 });
    } else {
        if let Some(u) = u {
            let (from, to) = (axis.place(value - u), axis.place(value + u));
            picture.line(
                [from, AXIS_Y],
                [to, AXIS_Y],
                &format!("{INK} stroke-width=\"3\""),
            );
            for end in [from, to] {
                picture.line(
                    [end, AXIS_Y - 5.0],
                    [end, AXIS_Y + 5.0],
                    &format!("{INK} stroke-width=\"2\""),
                );
            }
        }
        picture.add(&mark(verdict, x));
    }
    let unit = short(&plot.unit, 12);
    label(picture, x, &format!("{} {unit}", show_number(value)));
}

/// A dot in spec, a cross out of spec, a diamond too close to call, a ring else.
fn mark(verdict: ReadingVerdict, x: f64) -> String {
    let edge = "style=\"stroke:var(--paper,#fff)\" stroke-width=\"7\" fill=\"none\"";
    let paper = "style=\"fill:var(--paper,#fff)\" stroke=\"currentColor\" stroke-width=\"2.5\"";
    let x = super::svg::at(x);
    match verdict {
        ReadingVerdict::InSpec => format!(
            "<circle cx=\"{x}\" cy=\"{AXIS_Y}\" r=\"6\" fill=\"currentColor\" \
             style=\"stroke:var(--paper,#fff)\" stroke-width=\"1.5\"/>"
        ),
        ReadingVerdict::OutOfSpec => {
            let cross = format!("M{x} {AXIS_Y}m-7 -7l14 14m0 -14l-14 14");
            format!("<path d=\"{cross}\" {edge}/><path d=\"{cross}\" {INK} stroke-width=\"3.5\"/>")
        }
        ReadingVerdict::TooCloseToCall => {
            format!("<path d=\"M{x} {AXIS_Y}m0 -8l8 8l-8 8l-8 -8Z\" {paper}/>")
        }
        ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec => {
            format!("<circle cx=\"{x}\" cy=\"{AXIS_Y}\" r=\"6\" {paper}/>")
        }
    }
}

/// It lies farther out than the picture reaches.
fn arrow(picture: &mut Picture, x: f64, towards: f64) {
    let back = 11.0 * towards;
    for y in [AXIS_Y - 8.0, AXIS_Y + 8.0] {
        picture.line(
            [x - back, y],
            [x, AXIS_Y],
            &format!("{INK} stroke-width=\"3.5\""),
        );
    }
}

fn label(picture: &mut Picture, x: f64, text: &str) {
    let anchor = match x {
        x if x < 60.0 => "start",
        x if x > WIDTH - 60.0 => "end",
        _ => "middle",
    };
    picture.text(
        [x, 19.0],
        &format!(
            "text-anchor=\"{anchor}\" font-size=\"15\" font-weight=\"700\" fill=\"currentColor\""
        ),
        text,
    );
}

fn describe(plot: &Plot, verdict: ReadingVerdict, words: &Words) -> String {
    let show = |number: Option<f64>| number.map(show_number).unwrap_or_default();
    let [low, high, value, u] = numbers(plot);
    let (low_words, high_words) = (show(low), show(high));
    let (value_words, u_words) = (show(value), show(u));
    let values = [
        ("low", low_words.as_str()),
        ("high", high_words.as_str()),
        ("value", value_words.as_str()),
        ("u", u_words.as_str()),
        ("unit", plot.unit.as_str()),
        ("verdict", words.get(verdict_path(verdict))),
    ];
    let limits = match (low, high) {
        (Some(_), Some(_)) => Some(id!("report-plot-desc-both")),
        (Some(_), None) => Some(id!("report-plot-desc-low")),
        (None, Some(_)) => Some(id!("report-plot-desc-high")),
        (None, None) => None,
    };
    let read = if value.is_some() {
        id!("report-plot-desc-value")
    } else {
        id!("report-plot-desc-open")
    };
    [
        Some(read),
        value.and(u).map(|_| id!("report-plot-desc-u")),
        limits,
    ]
    .into_iter()
    .flatten()
    .map(|path| words.fill(path, &values))
    .collect::<Vec<_>>()
    .join(" ")
}

/// Where the words have the verdict.
fn verdict_path(verdict: ReadingVerdict) -> &'static str {
    match verdict {
        ReadingVerdict::InSpec => id!("report-verdict-in-spec"),
        ReadingVerdict::OutOfSpec => id!("report-verdict-out-of-spec"),
        ReadingVerdict::TooCloseToCall => id!("report-verdict-too-close-to-call"),
        ReadingVerdict::TakeAgain => id!("report-verdict-take-again"),
        ReadingVerdict::NoSpec => id!("report-verdict-no-spec"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::Fixed;

    fn plot(low: Option<f64>, high: Option<f64>, value: Option<f64>) -> Plot {
        let fixed = |n: Option<f64>| n.map(|n| Fixed::new(n).unwrap());
        Plot {
            low: fixed(low),
            high: fixed(high),
            value: fixed(value),
            expanded_u: fixed(Some(0.5)),
            unit: "ohm".into(),
        }
    }

    #[test]
    fn inside_is_drawn_inside_and_outside_outside() {
        for (value, inside) in [(23.0, true), (37.8, false), (19.0, false), (900.0, false)] {
            let plot = plot(Some(21.0), Some(25.0), Some(value));
            let axis = Axis::of(&plot).unwrap();
            let at = axis.place(value);
            assert_eq!(
                at > axis.place(21.0) && at < axis.place(25.0),
                inside,
                "{value}"
            );
        }
        let far = plot(Some(21.0), Some(25.0), Some(900.0));
        assert!(Axis::of(&far).unwrap().off(900.0));
    }

    #[test]
    fn says_in_words_what_it_draws() {
        let words = Words::of("en");
        let svg = |plot, verdict| reading_plot(&plot, verdict, &words, "p").unwrap();
        let both = svg(
            plot(Some(21.0), Some(25.0), Some(37.8)),
            ReadingVerdict::OutOfSpec,
        );
        assert!(both.contains("37.8 ohm, out of spec. It may be off by 0.5 ohm either way. The limits are 21 to 25 ohm."), "{both}");
        let open = svg(
            plot(Some(21.0), Some(25.0), None),
            ReadingVerdict::OutOfSpec,
        );
        assert!(open.contains("open circuit"), "{open}");
        let least = svg(plot(Some(1e6), None, Some(2e6)), ReadingVerdict::InSpec);
        assert!(least.contains("1000000 ohm or more"), "{least}");
        assert!(
            reading_plot(&plot(None, None, None), ReadingVerdict::NoSpec, &words, "p").is_none()
        );
    }
}
