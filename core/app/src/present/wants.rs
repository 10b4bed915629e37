//! A step's wishes, and what the log holds of each.

use swarfbook_job::fact::{GoAhead, GoAheadHow, Moment, PhotoSubject};
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Choice, Evidence, Number, Step, TopicRole, Want};
use swarfbook_judge::has::{self, closes_nothing, has};
use swarfbook_judge::onward;
use swarfbook_judge::part::Part;
use swarfbook_measure::unit::Units;
use swarfbook_words::{say, within};

use super::costs::money_words;
use super::{advice, codes, fluid, near, offers, parts, subject_words};
use crate::state::Loaded;
use crate::state::hand;
use crate::view::WantView;

/// What the log holds: in words, and the value for the keys to show.
#[derive(Default)]
struct Held {
    words: String,
    value: Option<String>,
    values: Vec<String>,
}

impl Held {
    fn said(words: impl Into<String>) -> Held {
        Held {
            words: words.into(),
            ..Held::default()
        }
    }
}

/// The wishes of a step, and what the log holds of each.
pub(super) fn wants(loaded: &Loaded, step: &Step) -> Vec<WantView> {
    step.evidence
        .iter()
        .map(|want| {
            let held = held(loaded, step, &want.evidence);
            WantView {
                want: Want {
                    evidence: super::asked_in(&want.evidence, loaded.units),
                    ..want.clone()
                },
                measures: want
                    .evidence
                    .number()
                    .and_then(|number| super::quantity_of(number.unit)),
                have: has(&loaded.state, loaded.judged(), step, &want.evidence),
                words: held.words,
                value: held.value,
                values: held.values,
                said: said(loaded, &want.evidence),
                offers: offers::of(loaded, &want.evidence),
                near: near::of(&loaded.state, &want.evidence),
                opens: onward::opens(loaded.judged(), step, &want.evidence),
                ends: onward::ends(&loaded.state, loaded.judged(), step, &want.evidence),
            }
        })
        .collect()
}

/// What follows from what the log holds.
fn said(loaded: &Loaded, evidence: &Evidence) -> Vec<String> {
    let Loaded { state, units, .. } = loaded;
    match evidence {
        Evidence::Codes {
            moment: Moment::After,
        } => codes::changes(state),
        Evidence::Measure {
            role: Some(TopicRole::FluidInL),
            ..
        } => fluid::balance_words(state, *units),
        Evidence::Observe {
            role: Some(TopicRole::LevelSeen),
            ..
        } => fluid::level_words(state, *units).into_iter().collect(),
        _ => Vec::new(),
    }
}

/// What is wanted, in words.
pub(super) fn label(evidence: &Evidence) -> String {
    match evidence {
        Evidence::Car => say!("the-cars-plate-or-vin-and-its-odometer"),
        Evidence::Complaint { .. } => say!("the-complaint-2"),
        Evidence::Codes { .. } => say!("the-codes-or-that-there-are-none"),
        Evidence::GoAhead => say!("the-go-ahead"),
        Evidence::Photo { label, .. } => say!("photo-label", label = within(label)),
        Evidence::Observe { label, .. }
        | Evidence::Measure { label, .. }
        | Evidence::Timed { label, .. }
        | Evidence::Text { label, .. } => within(label),
        Evidence::PartsOff => say!("what-came-off-2"),
        Evidence::PartsBack => say!("everything-back-in-its-place"),
        Evidence::Census => say!("confirm-the-count-of-each-photo"),
        Evidence::Components => say!("the-electrical-parts"),
        Evidence::Readings { .. } => say!("a-reading-of-each-part-with-good-contact"),
        Evidence::Explains => say!("the-codes-on-arrival"),
        Evidence::Decision => say!("your-decision"),
        Evidence::Replace { what, .. } => say!("the-what-out-and-in", what = what),
        Evidence::Tighten { what, .. } => say!("what-tightened", what = what),
        Evidence::Report => say!("the-report"),
        Evidence::Answer => say!("the-customers-answer"),
    }
}

fn held(loaded: &Loaded, step: &Step, evidence: &Evidence) -> Held {
    let Loaded { state, units, .. } = loaded;
    let judged = loaded.judged();
    match evidence {
        Evidence::Car => car(state, *units),
        Evidence::Complaint { when, symptoms } => complaint(state, symptoms, when),
        Evidence::Codes { moment } => match state.codes.get(moment) {
            Some(read) if read.codes.is_empty() => Held::said(say!("none-set")),
            Some(read) => {
                let codes: Vec<_> = read.codes.iter().map(|c| c.code.as_str()).collect();
                Held::said(codes.join(", "))
            }
            None => Held::default(),
        },
        Evidence::GoAhead => go_ahead(state),
        Evidence::Photo { subject, .. } => photos(state, step, *subject),
        Evidence::Observe { topic, choices, .. } => observed(state, step, topic, choices),
        Evidence::Measure { .. } | Evidence::Timed { .. } => evidence
            .number()
            .map_or_else(Held::default, |number| measured(loaded, step, number)),
        Evidence::Text { topic, .. } => state
            .notes
            .iter()
            .rev()
            .find(|n| n.step == step.id && n.topic.as_deref() == Some(topic))
            .map_or_else(Held::default, |n| Held {
                words: n.text.clone(),
                value: Some(n.text.clone()),
                values: Vec::new(),
            }),
        Evidence::PartsOff => {
            let off: Vec<_> = state
                .parts
                .iter()
                .filter(|p| p.part.step == step.id)
                .map(|p| parts::part_words(&p.part, p.part.count, hand::units(&p.stamp)))
                .collect();
            Held::said(off.join("; "))
        }
        Evidence::PartsBack => {
            let off = state.still_off();
            let words = if off == 0 {
                say!("nothing-is-off")
            } else {
                say!("n-things-are-still-off", n = off)
            };
            Held::said(words)
        }
        Evidence::Census => census(state),
        Evidence::Components => {
            let n = u32::try_from(state.components.len()).unwrap_or(u32::MAX);
            if n > 0 {
                Held::said(say!("n-parts", n = n))
            } else {
                Held::default()
            }
        }
        Evidence::Readings { quantity } => readings(&judged.parts, *quantity),
        Evidence::Explains => {
            let words: Vec<_> = judged
                .explanations
                .iter()
                .map(|e| format!("{}: {}", e.code, e.answer.words()))
                .collect();
            Held::said(words.join("; "))
        }
        Evidence::Decision => Held::said(match &state.decision {
            Some(d) => advice::outdated(state, judged.advised())
                .unwrap_or_else(|| advice::decision_words(d)),
            None => judged.assessment().map_or_else(String::new, |a| {
                say!(
                    "advice-advice",
                    advice = advice::advice_words(a, &judged.grave)
                )
            }),
        }),
        Evidence::Replace { .. } => {
            let done: Vec<_> = state
                .replaced
                .iter()
                .filter(|r| r.step == step.id)
                .map(|r| r.replacement.what.as_str())
                .collect();
            Held::said(done.join("; "))
        }
        Evidence::Tighten { role, .. } => {
            let done: Vec<_> = state
                .tightened
                .iter()
                .filter(|t| t.step == step.id)
                .map(|t| parts::tightened_words(&t.tightened, hand::units(&t.stamp)))
                .collect();
            if closes_nothing(state, *role) && done.is_empty() {
                return Held::said(say!("level-read-on-the-dipstick-no-plug-to"));
            }
            Held::said(done.join("; "))
        }
        Evidence::Report => {
            let stand = state.reports.iter().filter(|r| r.withdrawn.is_none());
            let n = u32::try_from(stand.count()).unwrap_or(u32::MAX);
            if n > 0 {
                Held::said(say!("n-reports-made", n = n))
            } else {
                Held::default()
            }
        }
        Evidence::Answer => {
            let n = u32::try_from(state.answers.len()).unwrap_or(u32::MAX);
            let words = match (n, state.shares.is_empty()) {
                (0, true) => say!("not-asked-yet"),
                (0, false) => say!("no-answer-yet"),
                _ => say!("n-answers", n = n),
            };
            Held::said(words)
        }
    }
}

fn car(state: &JobState, units: Units) -> Held {
    let Some(car) = &state.car else {
        return Held::default();
    };
    let mut words = vec![car.plate.trim().to_owned()];
    words.extend(car.vin.clone());
    words.extend(car.odometer_km.map(|km| super::distance_words(km, units)));
    words.retain(|w| !w.is_empty());
    Held::said(words.join(", "))
}

fn complaint(state: &JobState, symptoms: &[Choice], when_choices: &[Choice]) -> Held {
    let Some(complaint) = &state.complaint else {
        return Held::default();
    };
    let chosen = |choices: &[Choice], ids: &[String]| -> Vec<String> {
        let of = choices.iter().filter(|c| ids.contains(&c.id));
        of.map(|c| c.label.clone()).collect()
    };
    let mut when = chosen(symptoms, &complaint.symptoms);
    when.extend(chosen(when_choices, &complaint.when));
    let words = if when.is_empty() {
        complaint.words.clone()
    } else {
        format!("{} ({})", complaint.words, when.join(", "))
    };
    Held::said(words)
}

fn go_ahead(state: &JobState) -> Held {
    match &state.go_ahead {
        Some(go_ahead) => Held::said(go_ahead_words(go_ahead)),
        None => Held::default(),
    }
}

/// Who agreed, how, and up to what cost.
pub(crate) fn go_ahead_words(go_ahead: &GoAhead) -> String {
    let how = match go_ahead.how {
        GoAheadHow::InPerson => say!("in-person"),
        GoAheadHow::Phone => say!("by-telephone"),
        GoAheadHow::Message => say!("in-writing"),
    };
    let limit = go_ahead.limit.as_ref();
    let limit = limit.map_or_else(String::new, |limit| {
        say!("up-to-money", money = money_words(limit))
    });
    format!("{}, {how}{limit}", go_ahead.by)
}

fn photos(state: &JobState, step: &Step, subject: PhotoSubject) -> Held {
    let n = state
        .photos
        .iter()
        .filter(|p| p.step == step.id && p.subject == subject)
        .count();
    let n = u32::try_from(n).unwrap_or(u32::MAX);
    let words = if n == 0 {
        String::new()
    } else {
        say!(
            "count-of-subject",
            count = say!("n-photos", n = n),
            subject = subject_words(subject)
        )
    };
    Held::said(words)
}

fn observed(state: &JobState, step: &Step, topic: &str, choices: &[Choice]) -> Held {
    let key = (step.id.clone(), topic.to_owned());
    let Some(seen) = state.observed.get(&key) else {
        return Held::default();
    };
    let labels = answer_words(choices, seen.choices());
    let words = if seen.text.is_empty() {
        labels
    } else {
        format!("{labels}: {}", seen.text)
    };
    Held {
        words,
        value: Some(seen.choice.clone()),
        values: seen.choices().map(str::to_owned).collect(),
    }
}

/// Answers by what the technician read when they were chosen.
pub(super) fn answer_words<'a>(choices: &[Choice], ids: impl Iterator<Item = &'a str>) -> String {
    let labels: Vec<&str> = ids
        .map(|id| {
            let choice = choices.iter().find(|c| c.id == id);
            choice.map_or(id, |c| c.label.as_str())
        })
        .collect();
    labels.join(", ")
}

fn measured(loaded: &Loaded, step: &Step, asked: Number<'_>) -> Held {
    let Number {
        topic, unit, adds, ..
    } = asked;
    let values: Vec<f64> = loaded
        .state
        .measured
        .iter()
        .filter(|m| m.step == step.id && m.topic == topic)
        .map(|m| m.value)
        .collect();
    let Some(last) = values.last() else {
        return Held::default();
    };
    let value = if adds { values.iter().sum() } else { *last };
    Held {
        words: super::measured_words(value, unit, loaded.units),
        value: Some(super::units::measured_typed(value, unit, loaded.units)),
        values: Vec::new(),
    }
}

fn census(state: &JobState) -> Held {
    let counted = has::counted(state);
    Held::said(say!(
        "confirmed-of-readable-photos-confirmed",
        confirmed = counted.confirmed,
        readable = counted.readable
    ))
}

fn readings(parts: &[Part], quantity: swarfbook_job::fact::ReadingKind) -> Held {
    let read = has::read(parts, quantity);
    if read.wanted == 0 && !parts.is_empty() {
        return Held::said(say!("no-part-that-this-says-anything-of"));
    }
    Held::said(say!(
        "good-of-wanted-read",
        good = read.good,
        wanted = read.wanted
    ))
}
