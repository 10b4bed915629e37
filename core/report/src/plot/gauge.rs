//! The pan gauge: the oil pan from the side, debris as high as the score.

use swarfbook_wear::Band;
use swarfbook_words::id;

use super::svg::{Picture, at};
use crate::content::WearSaid;
use crate::words::Words;

/// A score to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct Gauge {
    /// 0 to 100.
    pub score: f64,
    /// Lower end of its 90 % interval.
    pub lo: f64,
    /// Upper end.
    pub hi: f64,
    /// The one in which the score lies.
    pub band: Band,
    /// Where each band begins, from `clean` to `failing`.
    pub band_from: [f64; 5],
}

impl From<&WearSaid> for Gauge {
    fn from(wear: &WearSaid) -> Gauge {
        Gauge {
            score: wear.score.get(),
            lo: wear.lo.get(),
            hi: wear.hi.get(),
            band: wear.band,
            band_from: wear.band_from.map(|from| from.get()),
        }
    }
}

const RIM_Y: f64 = 16.0;
const FLOOR_Y: f64 = 176.0;
const LEFT_RIM: f64 = 22.0;
const RIGHT_RIM: f64 = 202.0;
/// How far each wall leans in, from rim to floor.
const LEAN: f64 = 22.0;
const SIZE: [f64; 2] = [340.0, 214.0];

impl Gauge {
    /// The picture. `id` must differ between pictures of one page.
    pub fn svg(&self, words: &Words, id: &str) -> String {
        let clamp = |value: f64| value.clamp(0.0, 100.0);
        let (lo, score, hi) = (clamp(self.lo), clamp(self.score), clamp(self.hi));
        let [lo_words, score_words, hi_words] = [lo, score, hi].map(|v| format!("{v:.0}"));
        let numeral = numeral(self.band);
        let values = [
            ("score", score_words.as_str()),
            ("lo", lo_words.as_str()),
            ("hi", hi_words.as_str()),
            ("numeral", numeral),
            ("band", words.get(band_name(self.band))),
        ];
        let mut picture = Picture::new(
            "gauge",
            id,
            SIZE,
            words.get(id!("report-gauge-title")),
            &words.fill(id!("report-gauge-desc"), &values),
        );
        picture.add(&hatches(id));
        // Sure debris, then the doubt below the score, then the doubt above it.
        picture.add(&layer(0.0, lo, "currentColor"));
        picture.add(&layer(lo, score, &format!("url(#{id}-below)")));
        picture.add(&layer(score, hi, &format!("url(#{id}-above)")));
        surface(&mut picture, score);
        pan(&mut picture);
        self.bands(&mut picture, words);
        picture.text(
            [LEFT_RIM - 16.0, 204.0],
            "font-size=\"17\" font-weight=\"700\" fill=\"currentColor\"",
            &words.fill(id!("report-gauge-score-line"), &values),
        );
        picture.close()
    }

    /// Five notches on the wall; beside each range its shape, numeral and word.
    fn bands(&self, picture: &mut Picture, words: &Words) {
        for (place, band) in Band::ALL.into_iter().enumerate() {
            let from = self.band_from.get(place).copied().unwrap_or(0.0);
            let to = self.band_from.get(place + 1).copied().unwrap_or(100.0);
            let (wall, notch) = (right(from), height(from));
            picture.line(
                [wall - 3.0, notch],
                [wall + 9.0, notch],
                "stroke=\"currentColor\" stroke-width=\"2\" fill=\"none\"",
            );
            let middle = height(f64::midpoint(from, to));
            let here = band == self.band;
            if here {
                picture.line(
                    [right(f64::midpoint(from, to)) + 5.0, middle],
                    [226.0, middle],
                    "stroke=\"currentColor\" stroke-width=\"3\" fill=\"none\"",
                );
            }
            picture.add(&shape(band, [240.0, middle], here));
            picture.text(
                [256.0, middle + 5.0],
                if here {
                    "font-size=\"17\" font-weight=\"700\" fill=\"currentColor\""
                } else {
                    "font-size=\"14\" fill=\"currentColor\""
                },
                &format!("{} {}", numeral(band), words.get(band_name(band))),
            );
        }
    }
}

/// "1" for clean to "5" for failing.
fn numeral(band: Band) -> &'static str {
    match band {
        Band::Clean => "1",
        Band::Settled => "2",
        Band::Active => "3",
        Band::Heavy => "4",
        Band::Failing => "5",
    }
}

/// Where the words have its name.
pub(crate) fn band_name(band: Band) -> &'static str {
    match band {
        Band::Clean => id!("report-band-clean-name"),
        Band::Settled => id!("report-band-settled-name"),
        Band::Active => id!("report-band-active-name"),
        Band::Heavy => id!("report-band-heavy-name"),
        Band::Failing => id!("report-band-failing-name"),
    }
}

/// A small pan, filled to the band's share of it; its wall is thicker when it is the band in hand.
pub(crate) fn shape(band: Band, [x, y]: [f64; 2], here: bool) -> String {
    let full = f64::from(u8::try_from(band as usize + 1).unwrap_or(5)) / 5.0;
    // Rim, floor, and how far the walls lean in.
    let (wide, rim, floor, lean) = (12.0, y - 8.0, y + 8.0, 3.0);
    let top = floor - (floor - rim) * full;
    let inset = lean * full;
    let points = |half_top: f64, y_top: f64, half_floor: f64| {
        format!(
            "M{} {}L{} {}L{} {}L{} {}",
            at(x - half_top),
            at(y_top),
            at(x - half_floor),
            at(floor),
            at(x + half_floor),
            at(floor),
            at(x + half_top),
            at(y_top)
        )
    };
    let half_floor = wide - lean;
    format!(
        "<path d=\"{}Z\" fill=\"currentColor\"/><path d=\"{}\" fill=\"none\" \
         stroke=\"currentColor\" stroke-width=\"{}\" stroke-linejoin=\"round\"/>",
        points(half_floor + inset, top, half_floor),
        points(wide, rim, half_floor),
        if here { "3" } else { "1.5" }
    )
}

/// Height on the picture of a score.
fn height(score: f64) -> f64 {
    FLOOR_Y - (FLOOR_Y - RIM_Y) * score / 100.0
}

fn left(score: f64) -> f64 {
    LEFT_RIM + LEAN * (1.0 - score / 100.0)
}

fn right(score: f64) -> f64 {
    RIGHT_RIM - LEAN * (1.0 - score / 100.0)
}

/// The pan between two heights.
fn layer(from: f64, to: f64, fill: &str) -> String {
    if to <= from {
        return String::new();
    }
    format!(
        "<path d=\"M{} {}L{} {}L{} {}L{} {}Z\" fill=\"{fill}\"/>",
        at(left(from)),
        at(height(from)),
        at(right(from)),
        at(height(from)),
        at(right(to)),
        at(height(to)),
        at(left(to)),
        at(height(to))
    )
}

/// The score itself: a line with a light edge, so that it shows on the hatches.
fn surface(picture: &mut Picture, score: f64) {
    let ends = [[left(score), height(score)], [right(score), height(score)]];
    picture.line(
        ends[0],
        ends[1],
        "style=\"stroke:var(--paper,#fff)\" stroke-width=\"7\"",
    );
    picture.line(
        ends[0],
        ends[1],
        "stroke=\"currentColor\" stroke-width=\"3.5\"",
    );
}

fn pan(picture: &mut Picture) {
    let outline = format!(
        "<path d=\"M{} {rim}L{} {rim}L{} {floor}L{} {floor}L{} {rim}L{} {rim}\" fill=\"none\" \
         stroke=\"currentColor\" stroke-width=\"3\" stroke-linejoin=\"round\"/>",
        at(LEFT_RIM - 16.0),
        at(LEFT_RIM),
        at(left(0.0)),
        at(right(0.0)),
        at(RIGHT_RIM),
        at(RIGHT_RIM + 16.0),
        rim = at(RIM_Y),
        floor = at(FLOOR_Y),
    );
    picture.add(&outline);
}

/// Below the score light lines on ink, above it ink lines on light.
fn hatches(id: &str) -> String {
    let pattern = |name: &str, ground: &str, line: &str| {
        format!(
            "<pattern id=\"{id}-{name}\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\" \
             patternTransform=\"rotate(45)\"><rect width=\"7\" height=\"7\" style=\"fill:{ground}\"/>\
             <rect width=\"2\" height=\"7\" style=\"fill:{line}\"/></pattern>"
        )
    };
    let (ink, paper) = ("currentColor", "var(--paper,#fff)");
    format!(
        "<defs>{}{}</defs>",
        pattern("below", ink, paper),
        pattern("above", paper, ink)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gauge(score: f64, lo: f64, hi: f64, band: Band) -> String {
        let gauge = Gauge {
            score,
            lo,
            hi,
            band,
            band_from: [0.0, 10.0, 30.0, 55.0, 85.0],
        };
        gauge.svg(&Words::of("en"), "g")
    }

    #[test]
    fn says_in_words_what_it_draws() {
        let svg = gauge(62.0, 48.4, 74.0, Band::Heavy);
        assert!(svg.contains("62 of 100, likely 48 to 74"), "{svg}");
        assert!(svg.contains("band 4 of 5, Heavy"));
        for band in ["1 Clean", "2 Settled", "3 Active", "4 Heavy", "5 Failing"] {
            assert!(svg.contains(&format!(">{band}</text>")), "{band}");
        }
    }

    #[test]
    fn height_is_the_score_of_the_pan() {
        assert_eq!(height(0.0), FLOOR_Y);
        assert_eq!(height(100.0), RIM_Y);
        assert_eq!(height(50.0), f64::midpoint(FLOOR_Y, RIM_Y));
    }

    #[test]
    fn no_colour_but_ink_and_paper() {
        let svg = gauge(5.0, 1.0, 9.0, Band::Clean);
        let colours: Vec<_> = svg
            .match_indices('#')
            .map(|(at, _)| &svg[at..at + 4])
            .collect();
        assert!(
            colours.iter().all(|c| *c == "#fff" || c.starts_with("#g-")),
            "{colours:?}"
        );
    }

    #[test]
    fn a_score_out_of_range_stays_in_the_pan() {
        let svg = gauge(140.0, -3.0, 400.0, Band::Failing);
        assert!(svg.contains("100 of 100, likely 0 to 100"), "{svg}");
    }
}
