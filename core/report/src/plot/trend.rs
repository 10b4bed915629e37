//! Debris for the same distance at each visit of the car, one row a visit,
//! lying down so that a phone has room.

use swarfbook_measure::unit::show_number;
use swarfbook_words::id;

use super::svg::{Picture, at, short};
use crate::content::{VisitRate, VisitSaid};
use crate::words::Words;

const WIDTH: f64 = 320.0;
const ROW: f64 = 30.0;
/// Where no debris stands, and the most.
const ENDS: [f64; 2] = [112.0, 296.0];
const INK: &str = "stroke=\"currentColor\" fill=\"none\"";
const TEXT: &str = "font-size=\"13\" fill=\"currentColor\"";

/// The picture; `None` when fewer than two visits can be held beside each other.
pub fn trend_plot(visits: &[VisitSaid], words: &Words, id: &str) -> Option<String> {
    let rows: Vec<(&VisitSaid, &VisitRate)> = visits
        .iter()
        .filter_map(|visit| Some((visit, visit.rate.as_ref()?)))
        .collect();
    if rows.len() < 2 {
        return None;
    }
    let most = rows
        .iter()
        .map(|(_, rate)| rate.hi.get())
        .fold(0.0, f64::max);
    // Nothing was counted at any visit.
    let most = if most > 0.0 { round_up(most) } else { 1.0 };
    let foot = 4.0 + ROW * u32::try_from(rows.len()).map_or(0.0, f64::from);
    let mut picture = Picture::new(
        "trend",
        id,
        [WIDTH, foot + 42.0],
        words.get(id!("report-visits-title")),
        &describe(&rows, words),
    );
    for share in [0.0, 0.5, 1.0] {
        let x = ENDS[0] + (ENDS[1] - ENDS[0]) * share;
        let width = if share == 0.0 { 1.5 } else { 0.75 };
        picture.line(
            [x, 2.0],
            [x, foot + 4.0],
            &format!("{INK} stroke-width=\"{width}\""),
        );
        picture.text(
            [x, foot + 19.0],
            &format!("text-anchor=\"middle\" {TEXT}"),
            &show_number(most * share),
        );
    }
    for (index, (visit, rate)) in rows.iter().enumerate() {
        let y = 4.0 + ROW * (u32::try_from(index).map_or(0.0, f64::from) + 0.5);
        row(&mut picture, visit, rate, y, most, words);
    }
    picture.text(
        [WIDTH - 4.0, foot + 37.0],
        &format!("text-anchor=\"end\" {TEXT}"),
        words.get(id!("report-visits-axis")),
    );
    Some(picture.close())
}

/// A ring for an earlier visit, a dot for this one; the line is the interval.
fn row(
    picture: &mut Picture,
    visit: &VisitSaid,
    rate: &VisitRate,
    y: f64,
    most: f64,
    words: &Words,
) {
    let place = |n: f64| ENDS[0] + (ENDS[1] - ENDS[0]) * (n / most).clamp(0.0, 1.0);
    let (label, weight) = if visit.now {
        (words.get(id!("report-visits-now")), " font-weight=\"700\"")
    } else {
        (visit.label.as_str(), "")
    };
    picture.text(
        [ENDS[0] - 10.0, y + 4.5],
        &format!("text-anchor=\"end\"{weight} {TEXT}"),
        &short(label, 16),
    );
    let (lo, hi) = (place(rate.lo.get()), place(rate.hi.get()));
    picture.line([lo, y], [hi, y], &format!("{INK} stroke-width=\"2.5\""));
    for x in [lo, hi] {
        picture.line(
            [x, y - 6.0],
            [x, y + 6.0],
            &format!("{INK} stroke-width=\"2\""),
        );
    }
    let fill = if visit.now {
        "fill=\"currentColor\""
    } else {
        "style=\"fill:var(--paper,#fff)\""
    };
    picture.add(&format!(
        "<circle cx=\"{}\" cy=\"{}\" r=\"6\" {fill} stroke=\"currentColor\" stroke-width=\"2.5\"/>",
        at(place(rate.per_10000_km.get())),
        at(y)
    ));
}

/// A round number at or above `value`, not far above.
fn round_up(value: f64) -> f64 {
    let power = 10_f64.powf(value.log10().floor());
    [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0]
        .into_iter()
        .map(|step| step * power)
        .find(|top| *top >= value * (1.0 - 1e-9))
        .unwrap_or(10.0 * power)
}

fn describe(rows: &[(&VisitSaid, &VisitRate)], words: &Words) -> String {
    let said = rows.iter().map(|(visit, rate)| {
        let [value, lo, hi] = [rate.per_10000_km, rate.lo, rate.hi].map(|n| show_number(n.get()));
        let values = [
            ("label", visit.label.as_str()),
            ("value", &value),
            ("lo", &lo),
            ("hi", &hi),
        ];
        words.fill(id!("report-visits-row"), &values)
    });
    std::iter::once(words.get(id!("report-visits-desc")).to_owned())
        .chain(said)
        .collect::<Vec<_>>()
        .join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::content::{Fixed, Said};

    fn visit(label: &str, rate: Option<[f64; 3]>, now: bool) -> VisitSaid {
        let fixed = |n| Fixed::new(n).unwrap();
        VisitSaid {
            label: label.into(),
            now,
            rate: rate.map(|[value, lo, hi]| VisitRate {
                per_10000_km: fixed(value),
                lo: fixed(lo),
                hi: fixed(hi),
            }),
            said: Said {
                words: label.into(),
                from: Vec::new(),
            },
        }
    }

    #[test]
    fn says_each_visit_in_words_and_marks_this_one() {
        let words = Words::of("en");
        let visits = [
            visit("2 Mar 2026", Some([6.0, 3.5, 9.7]), false),
            visit("1 Sep 2026", Some([15.0, 9.2, 23.1]), true),
        ];
        let svg = trend_plot(&visits, &words, "t").unwrap();
        assert!(svg.contains("2 Mar 2026: 6, likely 3.5 to 9.7."), "{svg}");
        assert!(svg.contains("1 Sep 2026: 15, likely 9.2 to 23.1."), "{svg}");
        assert!(svg.contains(">this visit</text>"), "{svg}");
        assert_eq!(svg.matches("<circle").count(), 2);
        // The scale ends at a round number above the greatest end.
        assert!(svg.contains(">30</text>"), "{svg}");
    }

    #[test]
    fn one_visit_alone_or_without_distance_is_no_picture() {
        let words = Words::of("en");
        let one = visit("2 Mar 2026", Some([6.0, 3.5, 9.7]), true);
        let bare = visit("1 Sep 2025", None, false);
        assert!(trend_plot(&[bare, one], &words, "t").is_none());
        assert!(trend_plot(&[], &words, "t").is_none());
    }

    #[test]
    fn no_piece_at_any_visit_draws_at_nought() {
        let words = Words::of("en");
        let none = |now| visit("2 Mar 2026", Some([0.0, 0.0, 0.0]), now);
        let svg = trend_plot(&[none(false), none(true)], &words, "t").unwrap();
        assert!(svg.contains("cx=\"112\""), "{svg}");
        assert!(!svg.contains("NaN"));
    }

    #[test]
    fn scales_end_at_round_numbers() {
        let cases = [(23.1, 30.0), (0.2, 0.2), (8.5, 10.0), (1000.0, 1000.0)];
        for (value, top) in cases {
            assert!((round_up(value) - top).abs() < 1e-9 * top, "{value}");
        }
    }
}
