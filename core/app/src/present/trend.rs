//! The visits of one car beside each other, in words and as points to draw.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::words::thousands;
use swarfbook_judge::history::Visit;
use swarfbook_measure::unit::{Units, show_number};
use swarfbook_wear::{Change, ChangeVerdict, Trend, VisitRates};
use swarfbook_words::{rounding, say, term};

use crate::present::distance_words;
use crate::view::{TrendPoint, TrendView};

/// The trend as screens show it; `now` is when this job was opened.
pub(super) fn view(
    trend: &Trend,
    earlier: &[Visit],
    now: DateTime<FixedOffset>,
    units: Units,
) -> TrendView {
    TrendView {
        words: words(trend),
        verdict: trend.change.as_ref().map(|c| c.verdict),
        compared: compared(trend),
        by_class: trend
            .by_class
            .iter()
            .map(|one| &one.change)
            .filter(|change| change.verdict != ChangeVerdict::NoClearChange)
            .map(|change| change_words(change, trend.areas))
            .collect(),
        visits: trend
            .visits
            .iter()
            .map(|rates| {
                let visit = earlier.iter().find(|v| v.seen.id == rates.id);
                point(rates, visit, now, units)
            })
            .collect(),
    }
}

/// What the comparison comes to.
fn words(trend: &Trend) -> String {
    trend.change.as_ref().map_or_else(
        || say!("no-pieces-at-any-visit-nothing-to-compare"),
        |change| change_words(change, trend.areas),
    )
}

/// `by_area`: the ratio is that on the same area, too.
fn change_words(change: &Change, by_area: bool) -> String {
    let (test, scattered) = (&change.test, &change.scattered);
    let same = if by_area {
        say!("for-the-same-distance-and-area")
    } else {
        say!("for-the-same-distance")
    };
    let times = match (test.ratio, scattered.ratio_hi) {
        (Some(ratio), Some(hi)) => say!(
            "same-ratio-times-as-many-ratio-lo-to",
            same = same,
            ratio = show_number(round(ratio)),
            ratio_lo = show_number(down(scattered.ratio_lo)),
            hi = show_number(up(hi))
        ),
        _ => say!(
            "same-at-least-ratio-lo-times-as-many",
            same = same,
            ratio_lo = show_number(down(scattered.ratio_lo))
        ),
    };
    format!("{}{times}", change.words)
}

/// Ends of an interval are rounded outwards.
pub(crate) fn down(value: f64) -> f64 {
    let step = step(value);
    rounding::down(value * step, 0) / step
}

pub(crate) fn up(value: f64) -> f64 {
    let step = step(value);
    rounding::up(value * step, 0) / step
}

fn step(value: f64) -> f64 {
    if value >= 10.0 { 1.0 } else { 10.0 }
}

/// Two figures are more than a count of debris is worth.
pub(crate) fn round(value: f64) -> f64 {
    let step = step(value);
    (value * step).round() / step
}

/// What was compared, so that nobody takes it for more.
fn compared(trend: &Trend) -> String {
    let size = if trend.floor_mm > 0.0 {
        say!(
            "pieces-of-ceil-mm-and-more-which-every",
            ceil = show_number((trend.floor_mm * 100.0).ceil() / 100.0)
        )
    } else {
        say!("pieces-of-all-sizes")
    };
    let place = if trend.magnets {
        say!("on-pan-patch-and-magnets")
    } else {
        say!("on-pan-and-patch-magnets-were-not-photographed")
    };
    let area = if trend.areas {
        say!("for-the-area-searched-now")
    } else {
        say!("whatever-area-was-searched-since-not-every-visit")
    };
    say!(
        "size-place-area-bars-90-percent-garwood-a",
        size = size,
        place = place,
        area = area
    )
}

fn point(
    rates: &VisitRates,
    visit: Option<&Visit>,
    now: DateTime<FixedOffset>,
    units: Units,
) -> TrendPoint {
    let at = visit.map_or(now, |v| v.at);
    let date = at.format(term!("short-day-format")).to_string();
    let rate = rates.wear;
    let counted = say!(
        "count-in-distance",
        count = say!("n-pieces", n = rate.n),
        distance = distance_words(rates.km, units)
    );
    let per = match (rate.per_10000_km, rate.lo, rate.hi) {
        (Some(r), Some(lo), Some(hi)) => say!(
            "r-in-value-km-lo-to-hi",
            r = show_number(round(r)),
            value = thousands(10_000.0),
            lo = show_number(round(lo)),
            hi = show_number(round(hi))
        ),
        _ => String::new(),
    };
    TrendPoint {
        job: visit.map(|v| v.job),
        words: format!("{date}: {counted}{per}."),
        label: date,
        n: rate.n,
        per_10000_km: rate.per_10000_km,
        lo: rate.lo,
        hi: rate.hi,
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;
    use swarfbook_wear::{PhotoSeen, Visit, trend};

    use super::words;

    fn visit(odometer_km: f64, n: usize, searched_cm2: Option<f64>) -> Visit {
        let piece = json!({"class": "steel_flake", "p": {"steel_flake": 1.0},
            "feret_max": {"mm": 0.7, "lo": 0.6, "hi": 0.8}});
        let patch = json!({"id": "patch", "kind": "patch", "particles": vec![piece; n],
            "searched_cm2": searched_cm2});
        let patch: PhotoSeen = serde_json::from_value(patch).unwrap();
        Visit {
            id: String::new(),
            odometer_km: Some(odometer_km),
            km: 20_000.0,
            photos: vec![patch],
        }
    }

    #[test]
    fn a_ratio_by_area_says_that_it_is() {
        let told = |cm2: [Option<f64>; 2]| {
            let (now, then) = (visit(90_000.0, 60, cm2[0]), visit(70_000.0, 30, cm2[1]));
            words(&trend(&now, &[then]).unwrap().unwrap())
        };
        let by_area = told([Some(120.0), Some(60.0)]);
        assert!(
            by_area.contains(" For the same distance and area 1 times as many"),
            "{by_area}"
        );
        let without = told([Some(120.0), None]);
        assert!(
            without.contains(" For the same distance 2 times as many"),
            "{without}"
        );
    }
}
