//! What was seen, measured and noted at the steps: each line of the log that says
//! something is told at its step, unless another part of the report tells it.

use std::collections::BTreeSet;

use swarfbook_job::fact::Fact as Line;
use swarfbook_job::fold::{LineState, Mark};
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::TopicRole;
use swarfbook_report::content::{Fact, NotedAt, Said};
use swarfbook_words::{labelled, say, within};

use super::figures::Figures;
use super::plain::sentence;
use crate::present;

/// What one line says, with its name: "Colour" and "red".
pub(super) struct Told {
    pub label: String,
    pub value: String,
}

/// An observation, a number or a note that counts; `None` for what a later line at the
/// same step replaced, and for other kinds of line.
pub(super) fn told(figures: &Figures<'_>, line: &LineState) -> Option<Told> {
    let (step, topic) = at(line)?;
    if replaced(figures, line) {
        return None;
    }
    let want = topic.and_then(|topic| figures.procedure.topic(step, topic));
    let label = want.and_then(|want| want.evidence.label().map(str::to_owned));
    if let Some(Line::Noted { text, .. }) = &line.fact {
        return Some(Told {
            label: label.unwrap_or_else(|| say!("note")),
            value: text.clone(),
        });
    }
    let words = present::line_words(figures.loaded, line);
    let (label, value) = match label {
        Some(label) => {
            let value = words.strip_prefix(label.as_str());
            let value = value.map(|value| value.trim_start_matches(':').trim_start());
            (label.clone(), value.unwrap_or(&words).to_owned())
        }
        // A topic that the procedure does not know is told as it was written.
        None => match words.split_once(": ") {
            Some((topic, value)) => (topic.to_owned(), value.to_owned()),
            None => (words.clone(), String::new()),
        },
    };
    Some(Told { label, value })
}

/// Step and topic of an observation, a number or a note.
fn at(line: &LineState) -> Option<(&str, Option<&str>)> {
    match line.fact.as_ref()? {
        Line::Observed { observed } => Some((&observed.step, Some(&observed.topic))),
        Line::Measured { measured } => Some((&measured.step, Some(&measured.topic))),
        Line::Noted { step, topic, .. } => Some((step, topic.as_deref())),
        _ => None,
    }
}

/// Whether a later line says the same thing anew: the last answer counts, and the last
/// number where numbers do not add up. Notes stand beside each other.
pub(super) fn replaced(figures: &Figures<'_>, line: &LineState) -> bool {
    let Some((step, Some(topic))) = at(line) else {
        return false;
    };
    match &line.fact {
        Some(Line::Observed { .. }) => {
            let key = (step.to_owned(), topic.to_owned());
            let last = figures.state.observed.get(&key);
            last.is_some_and(|last| last.stamp.entry != line.stamp.entry)
        }
        Some(Line::Measured { .. }) => {
            let want = figures.procedure.topic(step, topic);
            let number = want.and_then(|want| want.evidence.number());
            let adds = number.is_some_and(|number| number.adds);
            let numbers = figures.state.measured.iter();
            let mut later = numbers
                .skip_while(|m| m.stamp.entry != line.stamp.entry)
                .skip(1);
            !adds && later.any(|m| m.step == step && m.topic == topic)
        }
        _ => false,
    }
}

/// Observations, numbers and notes of the roles asked for, in the order of writing.
pub(super) fn answers(figures: &Figures<'_>, wanted: impl Fn(TopicRole) -> bool) -> Vec<Fact> {
    let role = |(step, topic): (&str, Option<&str>)| figures.state.roles.topic(step, topic?);
    figures
        .live()
        .filter(|line| at(line).and_then(role).is_some_and(&wanted))
        .filter_map(|line| {
            let told = told(figures, line)?;
            let (step, _) = at(line)?;
            let title = figures.procedure.step(step).map(|(_, step)| &step.title);
            let label = match title {
                Some(title) => format!("{title} – {}", within(&told.label)),
                None => told.label,
            };
            Some(Fact {
                label,
                said: figures.said(told.value, [line.stamp.entry]),
            })
        })
        .collect()
}

/// What no other part of the report has told, step by step. Made after all others.
pub(super) fn noted(figures: &Figures<'_>) -> Vec<NotedAt> {
    let named: BTreeSet<EntryId> = figures.named();
    let mut noted: Vec<NotedAt> = Vec::new();
    let mut add = |step: String, said: Said| match noted.iter_mut().find(|at| at.step == step) {
        Some(at) => at.said.push(said),
        None => noted.push(NotedAt {
            step,
            said: vec![said],
        }),
    };
    for line in figures.live() {
        if named.contains(&line.stamp.entry) {
            continue;
        }
        let words = match &line.fact {
            Some(Line::PartLost { .. } | Line::ReportWithdrawn { .. }) => {
                present::line_words(figures.loaded, line)
            }
            _ => match told(figures, line) {
                Some(Told { label, value }) if value.is_empty() => label,
                Some(Told { label, value }) => labelled(&label, &value),
                None => continue,
            },
        };
        let step = line
            .fact
            .as_ref()
            .and_then(|fact| present::step_of(figures.state, fact));
        let title = step.map_or_else(|| say!("beside-the-steps"), |id| title(figures, id));
        add(title, figures.said(sentence(&words), [line.stamp.entry]));
    }
    noted
}

/// What the step is called, and that it was not finished where it was not.
fn title(figures: &Figures<'_>, step: &str) -> String {
    let known = figures.procedure.step(step);
    let title = known.map_or(step, |(_, step)| step.title.as_str());
    let state = figures.state.steps.get(step);
    let finished = state.is_some_and(|state| !matches!(state.mark, Mark::Skipped(_)));
    if finished {
        title.to_owned()
    } else {
        say!("step-step-not-finished", step = title)
    }
}
