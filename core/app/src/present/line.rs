//! Lines of the log in words.

use std::collections::BTreeMap;

use swarfbook_job::fact::{Correction, Fact, Moment};
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::{Evidence, Procedure};

use super::photo::{class_words, subject_words};
use super::{parts, time};
use crate::assess::wear::choice_words;
use crate::serve::Loaded;
use crate::view::LineView;

/// The whole log, oldest first.
pub(crate) fn lines(loaded: &Loaded) -> Vec<LineView> {
    let lines = &loaded.state.lines;
    lines.iter().map(|line| view(loaded, line)).collect()
}

/// Lines that belong to a step and count, by step.
pub(super) fn lines_by_step(loaded: &Loaded) -> BTreeMap<&str, Vec<LineView>> {
    let state = &loaded.state;
    let mut by_step: BTreeMap<&str, Vec<LineView>> = BTreeMap::new();
    for line in state.lines.iter().filter(|l| l.retracted_by.is_none()) {
        if let Some(step) = line.fact.as_ref().and_then(|f| step_of(state, f)) {
            by_step.entry(step).or_default().push(view(loaded, line));
        }
    }
    by_step
}

fn view(loaded: &Loaded, line: &LineState) -> LineView {
    let state = &loaded.state;
    LineView {
        entry: line.stamp.entry,
        at: time(&line.stamp.wall),
        by: state
            .people
            .get(&line.stamp.device)
            .cloned()
            .unwrap_or_default(),
        words: words(loaded, line),
        machine: matches!(line.fact, Some(Fact::CensusMade { .. })),
        photo: line
            .fact
            .as_ref()
            .and_then(|f| photo_of(line.stamp.entry, f)),
        retracted: line.retracted_by.is_some(),
    }
}

/// The step that a line belongs to, where it names one or its photo does.
fn step_of<'a>(state: &'a JobState, fact: &'a Fact) -> Option<&'a str> {
    match fact {
        Fact::StepTicked { step }
        | Fact::StepSettled { step, .. }
        | Fact::StepSkipped { step, .. }
        | Fact::Noted { step, .. }
        | Fact::PhotoTaken { step, .. }
        | Fact::PartReplaced { step, .. }
        | Fact::Tightened { step, .. } => Some(step),
        Fact::Observed { observed } => Some(&observed.step),
        Fact::Measured { measured } => Some(&measured.step),
        Fact::PartOff { part } => Some(&part.step),
        Fact::CensusMade { photo, .. }
        | Fact::CensusConfirmed { photo }
        | Fact::ParticleCorrected { photo, .. }
        | Fact::PhotoHinted { photo, .. } => state.photo(*photo).map(|p| p.step.as_str()),
        _ => None,
    }
}

fn photo_of(entry: EntryId, fact: &Fact) -> Option<EntryId> {
    match fact {
        Fact::PhotoTaken { .. } => Some(entry),
        Fact::CensusMade { photo, .. }
        | Fact::CensusConfirmed { photo }
        | Fact::ParticleCorrected { photo, .. }
        | Fact::PhotoHinted { photo, .. } => Some(*photo),
        _ => None,
    }
}

/// One line in words.
pub(crate) fn words(loaded: &Loaded, line: &LineState) -> String {
    let Loaded {
        state,
        procedure,
        units,
        ..
    } = loaded;
    let units = *units;
    let Some(fact) = &line.fact else {
        return "A line by a newer version of the app; kept, not shown.".to_owned();
    };
    match fact {
        Fact::Opened { .. } => format!("Job opened: {}", procedure.title),
        Fact::WrittenBy { name } => format!("Written by {name}"),
        Fact::CarNoted { car } => {
            let km = car.odometer_km.map_or_else(String::new, |km| {
                format!(", {}", super::distance_words(km, units))
            });
            let name = if car.plate.is_empty() {
                car.vin.as_deref().unwrap_or_default()
            } else {
                &car.plate
            };
            // Both are empty where they are left out of a report.
            format!("{}{km}", format!("Car {name}").trim_end())
        }
        Fact::CustomerLinked { .. } => "Customer noted".to_owned(),
        Fact::ComplaintNoted { complaint } => format!("Complaint: {}", complaint.words),
        Fact::CodesRead { moment, codes } => {
            let when = match moment {
                Moment::Before => "Codes as it came in",
                Moment::After => "Codes after the work",
            };
            let codes: Vec<_> = codes.iter().map(|c| c.code.as_str()).collect();
            let codes = if codes.is_empty() {
                "none".to_owned()
            } else {
                codes.join(", ")
            };
            format!("{when}: {codes}")
        }
        Fact::GoAheadGiven { go_ahead } => format!("Go-ahead by {}", go_ahead.by),
        Fact::StepTicked { step } | Fact::StepSettled { step, .. } => {
            format!("Done: {}", title(procedure, step))
        }
        Fact::StepSkipped { step, reason } => {
            format!("Left out: {} ({reason})", title(procedure, step))
        }
        Fact::Noted { text, private, .. } if *private => format!("Private note: {text}"),
        Fact::Noted { text, .. } => format!("Note: {text}"),
        Fact::Observed { observed } => {
            let text = if observed.text.is_empty() {
                String::new()
            } else {
                format!(" ({})", observed.text)
            };
            format!(
                "{}{text}",
                answer(procedure, &observed.step, &observed.topic, &observed.choice)
            )
        }
        Fact::Measured { measured } => {
            number(loaded, &measured.step, &measured.topic, measured.value)
        }
        Fact::PhotoTaken { subject, .. } => format!("Photo: {}", subject_words(*subject)),
        Fact::PhotoHinted { .. } => "Taps on the photo".to_owned(),
        Fact::CensusMade { census, .. } => match &census.problem {
            Some(problem) => format!("Could not be counted: {problem}"),
            None => format!(
                "Counted: {}",
                super::count_words(
                    u32::try_from(census.particles.len()).unwrap_or(u32::MAX),
                    "piece",
                    "pieces"
                )
            ),
        },
        Fact::ParticleCorrected { to, .. } => match to {
            Correction::Debris { class } => format!("One piece corrected: {}", class_words(*class)),
            Correction::NotDebris => "One piece corrected: not debris".to_owned(),
        },
        Fact::CensusConfirmed { photo } => {
            let of = state
                .photo(*photo)
                .map_or("the photo", |p| subject_words(p.subject));
            format!("Census of {of} confirmed")
        }
        Fact::PartOff { part } => format!("Off: {}", parts::part_words(part, part.count, units)),
        Fact::PartBack {
            part,
            count,
            replacement,
        } => {
            let new = if *replacement { " (new)" } else { "" };
            format!("Back: {}{new}", part_name(loaded, *part, *count))
        }
        Fact::PartLost { part, count, text } => {
            format!("Lost: {} ({text})", part_name(loaded, *part, *count))
        }
        Fact::ComponentNoted { component } => format!("Part noted: {}", component.name),
        Fact::SpecEntered { component, .. } => {
            format!("Limits entered: {}", component_name(state, *component))
        }
        Fact::ReadingTaken { component, reading } => format!(
            "Reading: {}, {}",
            component_name(state, *component),
            reading.samples.join(" · ")
        ),
        Fact::PartReplaced { replacement, .. } => format!("Replaced: {}", replacement.what),
        Fact::Tightened { tightened, .. } => {
            format!("Tightened: {}", parts::tightened_words(tightened, units))
        }
        Fact::Decided {
            chosen,
            advised,
            reason,
        } => {
            let against = if chosen == advised {
                String::new()
            } else {
                format!(
                    ", against the advice: {}",
                    reason.as_deref().unwrap_or_default()
                )
            };
            format!("Decided: {}{against}", choice_words(*chosen))
        }
        Fact::ReportMade { .. } => "Report made".to_owned(),
        Fact::ReportWithdrawn { reason, .. } => format!("Report withdrawn: {reason}"),
        Fact::ReportShared { .. } => "Report shared with the customer".to_owned(),
        Fact::CustomerAnswered { answer } => format!(
            "The customer answered: {} — {}",
            answer.item,
            super::answers::words(answer)
        ),
        Fact::Retracted { entry, reason } => {
            let what = state
                .lines
                .iter()
                .find(|l| l.stamp.entry == *entry)
                .filter(|l| !matches!(l.fact, Some(Fact::Retracted { .. })))
                .map_or_else(|| "an earlier line".to_owned(), |l| words(loaded, l));
            let why = reason
                .as_ref()
                .map_or_else(String::new, |r| format!(" ({r})"));
            format!("Taken back: {what}{why}")
        }
    }
}

fn title<'a>(procedure: &'a Procedure, step: &'a str) -> &'a str {
    procedure.step(step).map_or(step, |(_, s)| s.title.as_str())
}

fn answer(procedure: &Procedure, step: &str, topic: &str, choice: &str) -> String {
    match procedure.topic(step, topic).map(|w| &w.evidence) {
        Some(Evidence::Observe { label, choices, .. }) => {
            let choice = choices
                .iter()
                .find(|c| c.id == choice)
                .map_or(choice, |c| &c.label);
            format!("{label}: {choice}")
        }
        _ => format!("{topic}: {choice}"),
    }
}

fn number(loaded: &Loaded, step: &str, topic: &str, value: f64) -> String {
    match loaded.procedure.topic(step, topic).map(|w| &w.evidence) {
        Some(Evidence::Measure { label, unit, .. }) => format!(
            "{label}: {}",
            super::measured_words(value, unit, loaded.units)
        ),
        _ => format!("{topic}: {value}"),
    }
}

fn component_name(state: &JobState, component: EntryId) -> &str {
    state
        .component(component)
        .map_or("a part", |c| c.component.name.as_str())
}

fn part_name(loaded: &Loaded, part: EntryId, count: u32) -> String {
    loaded
        .state
        .parts
        .iter()
        .find(|p| p.stamp.entry == part)
        .map_or_else(
            || "a part".to_owned(),
            |p| parts::part_words(&p.part, count, loaded.units),
        )
}
