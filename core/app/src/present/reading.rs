//! Electrical parts and their readings, in words.

use swarfbook_job::fact::{
    Applied, Component, ComponentKind, Inside, MeterUsed, Reading, ReadingKind, SensorData,
    SpecEntered,
};
use swarfbook_job::fold::{ComponentState, JobState, ReadingState};
use swarfbook_job::id::EntryId;
use swarfbook_judge::part::{Part, Silent, says_nothing};
use swarfbook_judge::reading::{Because, JudgedReading};
use swarfbook_measure::conformity::Verdict;
use swarfbook_measure::judge::{ELSEWHERE_HALF_WIDTH_C, Judgement, PROBE_HALF_WIDTH_C};
use swarfbook_measure::meter::{Accuracy, Grade};
use swarfbook_measure::siblings;
use swarfbook_measure::unit::{COVERAGE, Quantity, show, show_number, show_range};
use swarfbook_words::{fixed, say, term};

use super::harness;
use crate::view::{ComponentView, ReadingCall, ReadingVerdict, ReadingView};
use crate::wording::time;

/// The generic grades of meters, for a shop that does not know its own's leaflet.
pub(crate) fn meter_grades() -> Vec<MeterUsed> {
    Grade::ALL
        .into_iter()
        .map(|grade| {
            let Accuracy { percent, counts } = grade.accuracy();
            MeterUsed {
                name: grade_words(grade).to_owned(),
                percent,
                counts,
            }
        })
        .collect()
}

fn grade_words(grade: Grade) -> &'static str {
    match grade {
        Grade::Pocket => term!("pocket-meter"),
        Grade::Workshop => term!("workshop-meter"),
        Grade::Fine => term!("fine-meter-calibrated"),
    }
}

/// The electrical parts of a job as screens show them.
pub(crate) fn components(state: &JobState, parts: &[Part]) -> Vec<ComponentView> {
    let noted = state.components.iter().zip(parts);
    noted
        .map(|(noted, part)| view(parts, noted, part))
        .collect()
}

fn view(parts: &[Part], component: &ComponentState, part: &Part) -> ComponentView {
    let noted = &component.component;
    let readings = component.readings.iter().zip(&part.readings);
    ComponentView {
        entry: part.entry,
        name: noted.name.clone(),
        kind: noted.kind,
        kind_words: noted.kind.row().name.to_owned(),
        grounded_by_case: noted.grounded_by_case,
        unread: part.unread.clone(),
        standing: part.standing,
        as_found: part.as_found,
        connector: noted.connector.clone(),
        part_number: noted.part_number.clone(),
        codes: noted.codes.clone(),
        specs: component.specs.values().cloned().collect(),
        spec_words: component
            .specs
            .values()
            .map(spec_words)
            .collect::<Vec<_>>()
            .join("; "),
        readings: readings
            .map(|(taken, judged)| reading_view(noted, taken, judged))
            .collect(),
        sibling_words: sibling_words(parts, part, noted),
        replaced: part.replaced,
        harness: component.harness.as_ref().and_then(harness::view),
    }
}

fn silent_words(why: Silent) -> String {
    match why {
        Silent::GroundedByCase => {
            say!("not-judged-its-case-is-its-other-pole")
        }
        Silent::HasNone => say!("not-judged-such-a-part-has-none"),
        Silent::ActiveSensor => {
            say!("not-judged-ohms-say-nothing-of-an-active")
        }
    }
}

/// Limits in words.
pub(crate) fn spec_words(spec: &SpecEntered) -> String {
    if let Some(sensor) = &spec.sensor {
        return sensor_words(sensor);
    }
    let unit = spec.quantity.quantity();
    let range = match (spec.low, spec.high) {
        (Some(low), Some(high)) => show_range(low, high, unit),
        (Some(low), None) => say!("at-least-low", low = show(low, unit)),
        (None, Some(high)) => say!("at-most-high", high = show(high, unit)),
        (None, None) => say!("no-limits"),
    };
    let at = spec
        .at_c
        .map_or_else(String::new, |c| say!("at-at-deg-c", at = show_number(c)));
    let what = match spec.quantity {
        ReadingKind::Insulation => term!("to-ground-2"),
        _ => "",
    };
    format!("{what}{range}{at}")
}

fn sensor_words(sensor: &SensorData) -> String {
    match sensor {
        SensorData::Table { rows } => match (rows.first(), rows.last()) {
            (Some(first), Some(last)) => say!(
                "by-its-table-of-rows-rows-celsius-to",
                rows = rows.len(),
                celsius = show_number(first.celsius),
                celsius_2 = show_number(last.celsius)
            ),
            _ => say!("no-limits"),
        },
        SensorData::BValue {
            ohms,
            reference_c,
            b_kelvin,
            tolerance_percent,
        } => say!(
            "ohms-at-reference-c-deg-c-b-b",
            ohms = show(*ohms, Quantity::Resistance),
            reference_c = show_number(*reference_c),
            b_kelvin = show_number(*b_kelvin),
            tolerance_percent = show_number(*tolerance_percent)
        ),
    }
}

fn reading_view(part: &Component, state: &ReadingState, reading: &JudgedReading) -> ReadingView {
    let taken = &state.reading;
    let (call, call_words) = call(reading);
    let mut view = ReadingView {
        entry: reading.entry,
        at: time(&state.stamp.wall),
        low: None,
        high: None,
        quantity: taken.quantity,
        value_words: taken.samples.join(" · "),
        value: None,
        u: None,
        verdict: reading.verdict,
        p_in_spec: None,
        call,
        call_words: call_words.to_owned(),
        verdict_words: String::new(),
        ask: None,
        steps: Vec::new(),
        of_replaced: reading.of_replaced,
        display: taken.display,
    };
    match &reading.judgement {
        Err(why) => view.ask = Some(why.to_string()),
        Ok(judged) => fill(&mut view, reading, judged),
    }
    if part.kind == ComponentKind::TemperatureSensor
        && taken.quantity == ReadingKind::Resistance
        && taken.part_c.is_some()
        && taken.part_from.is_none()
        && taken.part_within_k.is_none()
    {
        let from = say!(
            "say-where-its-temperature-was-read-a-probe",
            probe_half_width_c = show_number(PROBE_HALF_WIDTH_C),
            elsewhere_half_width_c = show_number(ELSEWHERE_HALF_WIDTH_C)
        );
        view.ask = Some(match view.ask.take() {
            Some(ask) => format!("{from} {ask}"),
            None => from,
        });
    }
    if let (Some(volts), ReadingKind::Insulation) = (taken.test_volts, taken.quantity) {
        view.value_words = say!(
            "value-at-volts",
            value = view.value_words,
            volts = show(volts, Quantity::Voltage)
        );
    }
    if let Some(applied) = &taken.applied {
        tell_applied(&mut view, taken, applied);
    }
    view
}

/// Beside the ohms what they came of, and whether it clicked.
fn tell_applied(view: &mut ReadingView, taken: &Reading, applied: &Applied) {
    let amperes = taken.samples.last().map_or("?", String::as_str);
    let click = match applied.click {
        Some(true) => say!("click-heard"),
        Some(false) => say!("no-click"),
        None => String::new(),
    };
    view.value_words = say!(
        "value-with-volts-v-and-amperes-a-click",
        value = view.value_words,
        volts = applied.volts.trim(),
        amperes = amperes.trim(),
        click = click
    );
    if applied.click == Some(false) && view.ask.is_none() {
        view.ask = Some(say!("no-click-what-moves-in-it-may-stick"));
    }
}

fn fill(view: &mut ReadingView, reading: &JudgedReading, judged: &Judgement) {
    view.value = judged.compared();
    view.u = judged.u.map(|u| COVERAGE * u);
    if judged.open {
        view.value_words = say!("open");
    } else if let Some(value) = judged.value {
        view.value_words = show(value, view.quantity.quantity());
    }
    view.verdict_words = match reading.because {
        Because::CannotBe => String::new(),
        Because::NoContact => say!("take-it-again"),
        Because::ContactOpen => {
            say!("contact-open-right-or-wrong-by-its-position")
        }
        Because::NoLimits => say!("no-limits-entered"),
        Because::Silent(why) => silent_words(why),
        Because::Short => say!("short-to-ground"),
        Because::NoPath => say!("no-path-to-ground-good"),
        Because::Limits(_) => short(judged),
    };
    let is_judged = !matches!(
        view.verdict,
        ReadingVerdict::NoSpec | ReadingVerdict::TakeAgain
    );
    if is_judged || reading.has_spec {
        (view.low, view.high) = (judged.limits.low, judged.limits.high);
        view.p_in_spec = judged.probability.filter(|_| is_judged);
        view.steps.clone_from(&judged.steps);
        // The whole sentence stands last, for the report.
        view.steps.push(judged.words.clone());
    }
    view.ask.clone_from(&judged.ask);
}

/// What a reading comes to, and its word.
fn call(reading: &JudgedReading) -> (ReadingCall, &'static str) {
    let open = reading.judgement.as_ref().is_ok_and(|judged| judged.open);
    match reading.because {
        Because::CannotBe | Because::NoContact => (ReadingCall::Again, term!("take-it-again")),
        Because::ContactOpen => (ReadingCall::NotJudged, term!("contact-open")),
        Because::NoLimits => (ReadingCall::NotJudged, term!("no-limits")),
        Because::Silent(_) => (ReadingCall::NotJudged, term!("not-judged")),
        Because::Short => (ReadingCall::Short, term!("short")),
        Because::NoPath => (ReadingCall::Good, term!("no-path-good")),
        Because::Limits(Verdict::OutOfSpec) if open => (ReadingCall::Open, term!("open")),
        Because::Limits(Verdict::OutOfSpec) => (ReadingCall::Out, Verdict::OutOfSpec.words()),
        Because::Limits(Verdict::InSpec) => (ReadingCall::Good, Verdict::InSpec.words()),
        Because::Limits(Verdict::TooCloseToCall) => {
            (ReadingCall::TooClose, Verdict::TooCloseToCall.words())
        }
    }
}

/// "out of spec, certain"; "too close to call: 62 % to be in spec"; where no value at
/// all could be called with this meter, the place.
fn short(judged: &Judgement) -> String {
    let (Some(verdict), Some(p)) = (judged.verdict, judged.probability) else {
        return String::new();
    };
    let (words, right) = match verdict {
        Verdict::TooCloseToCall => {
            return judged.place.clone().unwrap_or_else(|| {
                say!(
                    "too-close-to-call-value-percent-to-be",
                    value = fixed(100.0 * p, 0)
                )
            });
        }
        Verdict::InSpec => (verdict.words(), p),
        Verdict::OutOfSpec => (verdict.words(), 1.0 - p),
    };
    if right >= 0.999 {
        say!("words-certain", words = words)
    } else {
        say!(
            "words-right-percent-sure",
            words = words,
            right = fixed(100.0 * right, 1)
        )
    }
}

/// What the parts of the same number say about this one.
fn sibling_words(parts: &[Part], part: &Part, noted: &Component) -> Option<String> {
    let number = noted.part_number.trim();
    let by_ohms = says_nothing(noted, ReadingKind::Resistance).is_none()
        && noted.kind.inside() != Inside::Contacts;
    if number.is_empty() || !by_ohms {
        return None;
    }
    let like: Vec<(EntryId, f64, Option<f64>)> = parts
        .iter()
        .filter(|other| other.part_number.trim() == number)
        .filter_map(|other| {
            let mut readings = other.readings.iter().rev();
            let last = readings.find(|r| r.quantity == ReadingKind::Resistance)?;
            let judged = last.judgement.as_ref().ok()?;
            Some((other.entry, judged.compared()?, judged.u))
        })
        .collect();
    let own = like.iter().position(|(entry, ..)| *entry == part.entry)?;
    if like.len() < 2 {
        return None;
    }
    let values: Vec<f64> = like.iter().map(|(_, value, _)| *value).collect();
    let u = like.iter().filter_map(|(.., u)| *u).fold(0.0, f64::max);
    let compared = siblings::compare(&values, u);
    let member = compared.members.get(own)?;
    let median = compared
        .median
        .map_or_else(String::new, |m| show(m, Quantity::Resistance));
    let own = if member.stands_out {
        say!(
            "stands-out-among-values-like-parts-middle-median",
            values = values.len(),
            median = median
        )
    } else if values.len() >= siblings::ENOUGH {
        say!(
            "like-the-other-len-of-its-kind-middle",
            len = values.len() - 1,
            median = median
        )
    } else {
        // Too few to call one of them like or unlike the rest.
        say!(
            "the-middle-of-values-like-parts-is-median",
            values = values.len(),
            median = median
        )
    };
    Some(format!("{own} {}", compared.words))
}
