//! The rule by which a verdict is given, in words: how likely, with which uncertainty, and
//! between which values that leaves in spec.

use swarfbook_job::fold::ReadingState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::reading::{Because, JudgedReading};
use swarfbook_measure::conformity::{Guard, Limits};
use swarfbook_measure::judge::Judgement;
use swarfbook_measure::unit::{COVERAGE, Quantity, show, show_number, show_range, show_u};
use swarfbook_report::words::Words;
use swarfbook_words::{id, say};

use super::figures::Figures;

/// How likely in or out of spec must be for the readings of this job, percent; the usual
/// where there is none.
pub(super) fn levels(figures: &Figures<'_>, chosen: Option<f64>) -> String {
    let readings = figures.state.components.iter().flat_map(|c| &c.readings);
    let mut levels: Vec<String> = readings.map(|state| percent(level(state))).collect();
    if levels.is_empty() {
        levels.push(percent(chosen.unwrap_or(Guard::default().level)));
    }
    levels.sort();
    levels.dedup();
    levels.join(" / ")
}

fn level(state: &ReadingState) -> f64 {
    state.reading.guard.unwrap_or(Guard::default().level)
}

fn percent(level: f64) -> String {
    show_number(level * 100.0)
}

/// The rule of one reading; empty where no limit decides.
pub(super) fn rule(figures: &Figures<'_>, words: &Words, reading: EntryId) -> String {
    let judged = figures.judged.parts.iter().flat_map(|part| &part.readings);
    let states = figures.state.components.iter().flat_map(|c| &c.readings);
    let judged = judged.into_iter().find(|one| one.entry == reading);
    let state = states
        .into_iter()
        .find(|state| state.stamp.entry == reading);
    match (judged, state) {
        (Some(judged), Some(state)) => by_limits(judged, level(state), words),
        _ => String::new(),
    }
}

fn by_limits(reading: &JudgedReading, level: f64, words: &Words) -> String {
    let (Because::Limits(_), Ok(judgement)) = (reading.because, &reading.judgement) else {
        return String::new();
    };
    if judgement.open {
        return words.get(id!("report-annex-rule-open")).to_owned();
    }
    let Some(u) = judgement.u else {
        return String::new();
    };
    let quantity = reading.quantity.quantity();
    let (percent, k) = (percent(level), show_number(COVERAGE));
    let u = show_u(COVERAGE * u, quantity);
    let mut values = vec![("percent", percent.as_str()), ("k", &k), ("u", &u)];
    let Some(inner) = judgement.accepted else {
        return words.fill(id!("report-annex-rule-nowhere"), &values);
    };
    let (range, band) = (range_words(inner, quantity), band(judgement, inner));
    let band = show_u(band, quantity);
    values.extend([("range", range.as_str()), ("band", &band)]);
    words.fill(id!("report-annex-rule-here"), &values)
}

fn range_words(limits: Limits, quantity: Quantity) -> String {
    match (limits.low, limits.high) {
        (Some(low), Some(high)) => show_range(low, high, quantity),
        (Some(low), None) => say!("at-least-low", low = show(low, quantity)),
        (None, Some(high)) => say!("at-most-high", high = show(high, quantity)),
        (None, None) => say!("no-limits"),
    }
}

/// How far inside the limits in spec begins.
fn band(judgement: &Judgement, inner: Limits) -> f64 {
    let low = judgement.limits.low.zip(inner.low);
    let high = judgement.limits.high.zip(inner.high);
    low.map(|(limit, inner)| inner - limit)
        .or_else(|| high.map(|(limit, inner)| limit - inner))
        .unwrap_or(0.0)
}
