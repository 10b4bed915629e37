//! Lines of the log in words.

use std::collections::BTreeMap;
use swarfbook_words::{retold, say, term};

use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{Correction, Fact, Measured, Moment, Observed, PhotoLink};
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::{Evidence, Procedure};
use swarfbook_measure::unit::{Quantity, Units};

use super::advice::choice_words;
use super::photo::subject_words;
use super::{parts, time};
use crate::state::Loaded;
use crate::state::hand;
use crate::view::LineView;

/// What a device can be set to another unit for.
const CHOSEN: [Quantity; 5] = [
    Quantity::Distance,
    Quantity::Temperature,
    Quantity::Torque,
    Quantity::Volume,
    Quantity::Length,
];

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
    LineView {
        entry: line.stamp.entry,
        at: time(&line.stamp.wall),
        by: by(line),
        words: words(loaded, line),
        machine: matches!(line.fact, Some(Fact::CensusMade { .. })),
        photo: line
            .fact
            .as_ref()
            .and_then(|f| photo_of(line.stamp.entry, f)),
        retracted: line.retracted_by.is_some(),
        undoes: matches!(line.fact, Some(Fact::Retracted { .. })),
        unsigned: loaded.folded().is_unsigned(line.stamp.entry),
    }
}

/// Who wrote a line: whoever had the device in hand then.
pub(crate) fn by(line: &LineState) -> String {
    match line.fact {
        Some(Fact::CustomerAnswered { .. }) => term!("the customer").to_owned(),
        _ => line.stamp.hand.name.clone(),
    }
}

/// The step that a line belongs to, where it names one or its photo does.
pub(crate) fn step_of<'a>(state: &'a JobState, fact: &'a Fact) -> Option<&'a str> {
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
        | Fact::PhotoLinked { photo, .. }
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
        | Fact::PhotoLinked { photo, .. }
        | Fact::PhotoHinted { photo, .. } => Some(*photo),
        _ => None,
    }
}

/// One line in words.
pub(crate) fn words(loaded: &Loaded, line: &LineState) -> String {
    let Loaded {
        state, procedure, ..
    } = loaded;
    // As it was written, whatever the device is set to now.
    let units = hand::units(&line.stamp);
    let Some(fact) = &line.fact else {
        return say!("A line by a newer version of the app; kept, not shown.");
    };
    match fact {
        Fact::Opened { .. } => say!("Job opened: {}", procedure.title),
        Fact::WrittenBy { name } => say!("Written by {}", name),
        Fact::WrittenIn { .. } => say!(
            "Written in {}",
            CHOSEN.map(|of| units.of(of).symbol()).join(", ")
        ),
        Fact::MeasuredWith { tools } => super::tools::words(tools),
        Fact::CostGiven { cost } => super::costs::words(cost),
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
            let car = say!("Car {}{}", name, km);
            car.replace(" ,", ",").trim_end().to_owned()
        }
        Fact::CustomerLinked { .. } => say!("Customer noted"),
        Fact::ComplaintNoted { complaint } => say!("Complaint: {}", complaint.words),
        Fact::CodesRead { moment, codes } => {
            let when = match moment {
                Moment::Before => say!("Codes on arrival"),
                Moment::After => say!("Codes after the work"),
            };
            let codes: Vec<_> = codes.iter().map(|c| c.code.as_str()).collect();
            let codes = if codes.is_empty() {
                say!("none set")
            } else {
                codes.join(", ")
            };
            format!("{when}: {codes}")
        }
        Fact::GoAheadGiven { go_ahead } => say!("Go-ahead by {}", go_ahead.by),
        Fact::StepTicked { step } | Fact::StepSettled { step, .. } => {
            say!("Done: {}", title(procedure, step))
        }
        Fact::StepSkipped { step, reason } => {
            say!("Skipped: {} ({})", title(procedure, step), reason)
        }
        Fact::Noted { text, private, .. } if *private => say!("Private note: {}", text),
        Fact::Noted { text, .. } => say!("Note: {}", text),
        Fact::Observed { observed } => {
            let text = if observed.text.is_empty() {
                String::new()
            } else {
                format!(" ({})", observed.text)
            };
            format!("{}{text}", answer(procedure, observed))
        }
        Fact::Measured { measured } => number(procedure, measured, units),
        Fact::PhotoTaken { subject, .. } => say!("Photo: {}", subject_words(*subject)),
        Fact::PhotoHinted { .. } => say!("Taps on the photo"),
        Fact::CensusMade { census, .. } => match &census.problem {
            Some(problem) => say!("Could not be counted: {}", retold(problem)),
            None => say!(
                "Counted: {}",
                super::count_words(
                    u32::try_from(census.particles.len()).unwrap_or(u32::MAX),
                    term!("piece"),
                    term!("pieces")
                )
            ),
        },
        Fact::ParticleCorrected { to, .. } => match to {
            Correction::Debris { class } => {
                say!("One piece corrected: {}", ClassRow::of(*class).name)
            }
            Correction::NotDebris => say!("One piece corrected: not debris"),
            Correction::Parted { .. } => say!("One piece parted in two"),
            Correction::Joined { .. } => say!("Two pieces joined to one"),
        },
        Fact::PhotoLinked { to, link, .. } => {
            let at = state.photo(*to).map(|p| super::clock_words(p.stamp.wall));
            let at = at.unwrap_or_default();
            match link {
                PhotoLink::SamePatch => say!("Shows the same place as the photo of {}", at),
                PhotoLink::AfterMagnet => {
                    say!("Taken after the magnet, of the place of {}", at)
                }
                PhotoLink::Apart => say!("Shows another place than the photo of {}", at),
            }
        }
        Fact::CensusConfirmed { photo } => {
            let of = state
                .photo(*photo)
                .map_or(term!("the photo"), |p| subject_words(p.subject));
            say!("Count confirmed: {}", of)
        }
        Fact::PartOff { part } => say!("Off: {}", parts::part_words(part, part.count, units)),
        Fact::PartBack {
            part,
            count,
            replacement,
        } => {
            let new = if *replacement { " (new)" } else { "" };
            say!("Back: {}{}", part_name(loaded, *part, *count), new)
        }
        Fact::PartLost { part, count, text } => {
            say!("Lost: {} ({})", part_name(loaded, *part, *count), text)
        }
        Fact::ComponentNoted { component } => say!("Part noted: {}", component.name),
        Fact::SpecEntered { component, .. } => {
            say!("Limits entered: {}", component_name(state, *component))
        }
        Fact::ReadingTaken { component, reading } => say!(
            "Reading: {}, {}",
            component_name(state, *component),
            reading.samples.join(" · ")
        ),
        Fact::HarnessRead { component, read } => say!(
            "Wires read: {}, {} numbers",
            component_name(state, *component),
            read.samples().count()
        ),
        Fact::PartReplaced { replacement, .. } => say!("Replaced: {}", replacement.what),
        Fact::Tightened { tightened, .. } => {
            say!("Tightened: {}", parts::tightened_words(tightened, units))
        }
        Fact::Decided {
            chosen,
            advised,
            reason,
        } => {
            let against = if chosen == advised {
                String::new()
            } else {
                say!(
                    ", against the advice: {}",
                    reason.as_deref().unwrap_or_default()
                )
            };
            say!("Decided: {}{}", choice_words(*chosen), against)
        }
        Fact::ReportMade { .. } => say!("Report made"),
        Fact::ReportWithdrawn { reason, .. } => say!("Report withdrawn: {}", reason),
        Fact::ReportShared { .. } => say!("Report shared with the customer"),
        Fact::CustomerAnswered { answer } => say!(
            "The customer answered: {} — {}",
            answer.item,
            super::answers::words(answer)
        ),
        Fact::Retracted { entry, reason } => {
            let of = |entry: EntryId| state.lines.iter().find(|l| l.stamp.entry == entry);
            let why = reason
                .as_ref()
                .map_or_else(String::new, |r| format!(" ({r})"));
            let named = |line: Option<&LineState>| {
                line.filter(|l| !matches!(l.fact, Some(Fact::Retracted { .. })))
                    .map_or_else(|| say!("an earlier line"), |l| words(loaded, l))
            };
            match of(*entry).and_then(|l| l.fact.as_ref()) {
                // To undo an undoing is to do again what was undone.
                Some(Fact::Retracted { entry, .. }) => {
                    say!("Redone: {}{}", named(of(*entry)), why)
                }
                _ => say!("Undone: {}{}", named(of(*entry)), why),
            }
        }
    }
}

fn title<'a>(procedure: &'a Procedure, step: &'a str) -> &'a str {
    procedure.step(step).map_or(step, |(_, s)| s.title.as_str())
}

fn answer(procedure: &Procedure, observed: &Observed) -> String {
    let said = || {
        let also = observed.also.iter().map(String::as_str);
        std::iter::once(observed.choice.as_str()).chain(also)
    };
    let evidence = procedure.topic(&observed.step, &observed.topic);
    match evidence.map(|w| &w.evidence) {
        Some(Evidence::Observe { label, choices, .. }) => {
            format!("{label}: {}", super::wants::answer_words(choices, said()))
        }
        _ => format!(
            "{}: {}",
            observed.topic,
            said().collect::<Vec<_>>().join(", ")
        ),
    }
}

fn number(procedure: &Procedure, measured: &Measured, units: Units) -> String {
    let Measured {
        step, topic, value, ..
    } = measured;
    match procedure.topic(step, topic).map(|w| &w.evidence) {
        Some(Evidence::Measure { label, unit, .. }) => {
            format!("{label}: {}", super::measured_words(*value, unit, units))
        }
        _ => format!("{topic}: {value}"),
    }
}

fn component_name(state: &JobState, component: EntryId) -> &str {
    state
        .component(component)
        .map_or(term!("a part"), |c| c.component.name.as_str())
}

fn part_name(loaded: &Loaded, part: EntryId, count: u32) -> String {
    loaded
        .state
        .parts
        .iter()
        .find(|p| p.stamp.entry == part)
        .map_or_else(
            || say!("a part"),
            |p| parts::part_words(&p.part, count, hand::units(&p.stamp)),
        )
}
