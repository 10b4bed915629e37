//! Lines of the log in words.

use std::collections::BTreeMap;
use swarfbook_words::{kept, labelled, say, term};

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
        Some(Fact::CustomerAnswered { .. }) => term!("the-customer").to_owned(),
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
        return say!("a-line-by-a-newer-version-of-the");
    };
    match fact {
        Fact::Opened { .. } => say!("job-opened-title", title = procedure.title),
        Fact::WrittenBy { name } => say!("written-by-name", name = name),
        Fact::WrittenIn { .. } => say!(
            "written-in-chosen",
            chosen = CHOSEN.map(|of| units.of(of).symbol()).join(", ")
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
            let car = say!("car-name-km", name = name, km = km);
            car.replace(" ,", ",").trim_end().to_owned()
        }
        Fact::CustomerLinked { .. } => say!("customer-noted"),
        Fact::ComplaintNoted { complaint } => say!("complaint-words-2", words = complaint.words),
        Fact::CodesRead { moment, codes } => {
            let when = match moment {
                Moment::Before => say!("codes-on-arrival"),
                Moment::After => say!("codes-after-the-work"),
            };
            let codes: Vec<_> = codes.iter().map(|c| c.code.as_str()).collect();
            let codes = if codes.is_empty() {
                say!("none-set")
            } else {
                codes.join(", ")
            };
            format!("{when}: {codes}")
        }
        Fact::GoAheadGiven { go_ahead } => say!("go-ahead-by-by", by = go_ahead.by),
        Fact::StepTicked { step } | Fact::StepSettled { step, .. } => {
            say!("done-title", title = title(procedure, step))
        }
        Fact::StepSkipped { step, reason } => {
            say!(
                "skipped-title-reason",
                title = title(procedure, step),
                reason = reason
            )
        }
        Fact::Noted { text, private, .. } if *private => say!("private-note-text", text = text),
        Fact::Noted { text, .. } => say!("note-text-2", text = text),
        Fact::Observed { observed } => {
            let text = if observed.text.is_empty() {
                String::new()
            } else {
                format!(" ({})", observed.text)
            };
            format!("{}{text}", answer(procedure, observed))
        }
        Fact::Measured { measured } => number(procedure, measured, units),
        Fact::PhotoTaken { subject, .. } => {
            say!("photo-subject", subject = subject_words(*subject))
        }
        Fact::PhotoHinted { .. } => say!("taps-on-the-photo"),
        Fact::CensusMade { census, .. } => match &census.problem {
            Some(problem) => say!("could-not-be-counted-problem", problem = kept(problem)),
            None => say!(
                "counted-count",
                count = say!(
                    "n-pieces",
                    n = u32::try_from(census.particles.len()).unwrap_or(u32::MAX)
                )
            ),
        },
        Fact::ParticleCorrected { to, .. } => match to {
            Correction::Debris { class } => {
                say!("one-piece-corrected-name", name = ClassRow::of(*class).name)
            }
            Correction::NotDebris => say!("one-piece-corrected-not-debris"),
            Correction::Parted { .. } => say!("one-piece-parted-in-two"),
            Correction::Joined { .. } => say!("two-pieces-joined-to-one"),
        },
        Fact::PhotoLinked { to, link, .. } => {
            let at = state.photo(*to).map(|p| super::clock_words(p.stamp.wall));
            let at = at.unwrap_or_default();
            match link {
                PhotoLink::SamePatch => say!("shows-the-same-place-as-the-photo-of", at = at),
                PhotoLink::AfterMagnet => {
                    say!("taken-after-the-magnet-of-the-place-of", at = at)
                }
                PhotoLink::Apart => say!("shows-another-place-than-the-photo-of-at", at = at),
            }
        }
        Fact::CensusConfirmed { photo } => {
            let of = state
                .photo(*photo)
                .map_or(term!("the-photo"), |p| subject_words(p.subject));
            say!("count-confirmed-value", value = of)
        }
        Fact::PartOff { part } => say!(
            "off-part",
            part = parts::part_words(part, part.count, units)
        ),
        Fact::PartBack {
            part,
            count,
            replacement,
        } => {
            let part = part_name(loaded, *part, *count);
            match replacement {
                true => say!("back-part-new", part = part),
                false => say!("back-part", part = part),
            }
        }
        Fact::PartLost { part, count, text } => {
            say!(
                "lost-part-name-text",
                part_name = part_name(loaded, *part, *count),
                text = text
            )
        }
        Fact::ComponentNoted { component } => {
            say!("part-noted-component", component = component.name)
        }
        Fact::SpecEntered { component, .. } => {
            say!(
                "limits-entered-component-name",
                component_name = component_name(state, *component)
            )
        }
        Fact::ReadingTaken { component, reading } => {
            let words = say!(
                "reading-component-name-samples",
                component_name = component_name(state, *component),
                samples = reading.samples.join(" · ")
            );
            match reading.display {
                Some(_) => format!("{words} ({})", term!("read-off-the-display")),
                None => words,
            }
        }
        Fact::HarnessRead { component, read } => say!(
            "wires-read-component-name-samples-numbers",
            component_name = component_name(state, *component),
            samples = read.samples().count()
        ),
        Fact::PartReplaced { replacement, .. } => say!("replaced-what", what = replacement.what),
        Fact::Tightened { tightened, .. } => {
            say!(
                "tightened-tightened",
                tightened = parts::tightened_words(tightened, units)
            )
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
                    "against-the-advice-reason",
                    reason = reason.as_deref().unwrap_or_default()
                )
            };
            say!(
                "decided-choice-against",
                choice = choice_words(*chosen),
                against = against
            )
        }
        Fact::ReportMade { .. } => say!("report-made-2"),
        Fact::ReportWithdrawn { reason, .. } => say!("report-withdrawn-reason-2", reason = reason),
        Fact::ReportShared { .. } => say!("report-shared-with-the-customer"),
        Fact::CustomerAnswered { answer } => say!(
            "the-customer-answered-item-words",
            item = answer.item,
            words = super::answers::words(answer)
        ),
        Fact::Retracted { entry, reason } => {
            let of = |entry: EntryId| state.lines.iter().find(|l| l.stamp.entry == entry);
            let why = reason
                .as_ref()
                .map_or_else(String::new, |r| format!(" ({r})"));
            let named = |line: Option<&LineState>| {
                line.filter(|l| !matches!(l.fact, Some(Fact::Retracted { .. })))
                    .map_or_else(|| say!("an-earlier-line"), |l| words(loaded, l))
            };
            match of(*entry).and_then(|l| l.fact.as_ref()) {
                // To undo an undoing is to do again what was undone.
                Some(Fact::Retracted { entry, .. }) => {
                    say!("redone-named-why", named = named(of(*entry)), why = why)
                }
                _ => say!("undone-named-why", named = named(of(*entry)), why = why),
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
            labelled(label, &super::wants::answer_words(choices, said()))
        }
        _ => labelled(&observed.topic, &said().collect::<Vec<_>>().join(", ")),
    }
}

fn number(procedure: &Procedure, measured: &Measured, units: Units) -> String {
    let Measured {
        step, topic, value, ..
    } = measured;
    let want = procedure.topic(step, topic);
    match want.and_then(|want| want.evidence.number()) {
        Some(asked) => {
            let words = super::measured_words(*value, asked.unit, units);
            labelled(asked.label, &words)
        }
        None => labelled(topic, &value.to_string()),
    }
}

fn component_name(state: &JobState, component: EntryId) -> &str {
    state
        .component(component)
        .map_or(term!("a-part"), |c| c.component.name.as_str())
}

fn part_name(loaded: &Loaded, part: EntryId, count: u32) -> String {
    loaded
        .state
        .parts
        .iter()
        .find(|p| p.stamp.entry == part)
        .map_or_else(
            || say!("a-part"),
            |p| parts::part_words(&p.part, count, hand::units(&p.stamp)),
        )
}
