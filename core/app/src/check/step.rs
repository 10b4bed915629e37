//! Steps: ticking, leaving out, observing, measuring, deciding.

use swarfbook_job::fact::{AdviceChoice, Measured, Observed};
use swarfbook_job::procedure::{Choice, Evidence, Step};
use swarfbook_words::{say, term};

use super::{LONG, number, quantity, text, wanted_text};
use crate::present::fluid;
use crate::present::quantity_of;
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;

pub(super) fn known<'a>(loaded: &'a Loaded, step: &str) -> Result<&'a Step, Problem> {
    let found = loaded.procedure.step(step);
    found.map(|(_, step)| step).ok_or_else(|| {
        Problem::bad_input(
            say!("the-procedure-of-this-job-has-no-step", step = step),
            say!("go-back-to-the-job-and-choose-a"),
        )
    })
}

pub(super) fn tick(loaded: &Loaded, step: &str) -> Result<(), Problem> {
    let step = known(loaded, step)?;
    let in_the_way = crate::present::in_the_way(loaded, step);
    if in_the_way.is_empty() {
        return Ok(());
    }
    Err(Problem::new(
        ProblemKind::NotYet,
        in_the_way.join(" "),
        say!("do-it-or-leave-the-step-out-with"),
    ))
}

pub(super) fn skip(loaded: &Loaded, step: &str, reason: &str) -> Result<(), Problem> {
    known(loaded, step)?;
    wanted_text(term!("the-reason-for-leaving-it-out"), reason, LONG)
}

pub(super) fn note(
    loaded: &Loaded,
    step: &str,
    topic: Option<&str>,
    words: &str,
) -> Result<(), Problem> {
    known(loaded, step)?;
    if let Some(topic) = topic {
        asked(loaded, step, topic, |e| matches!(e, Evidence::Text { .. }))?;
    }
    wanted_text(term!("the-note"), words, LONG)
}

pub(super) fn observed(loaded: &Loaded, observed: &Observed) -> Result<(), Problem> {
    known(loaded, &observed.step)?;
    text(term!("the-words"), &observed.text, LONG)?;
    let evidence = asked(loaded, &observed.step, &observed.topic, |e| {
        matches!(e, Evidence::Observe { .. })
    })?;
    let Evidence::Observe {
        label,
        choices,
        several,
        ..
    } = evidence
    else {
        return Ok(());
    };
    let said: Vec<&str> = std::iter::once(observed.choice.as_str())
        .chain(observed.also.iter().map(String::as_str))
        .collect();
    for id in &said {
        if !choices.iter().any(|c| c.id == *id) {
            return Err(Problem::bad_input(
                say!("id-is-no-answer-to-label", id = id, label = label),
                say!("choose-one-of-the-answers"),
            ));
        }
    }
    together(label, choices, *several, &said)?;
    let named = choices
        .iter()
        .any(|c| c.named && said.contains(&c.id.as_str()));
    if named {
        wanted_text(term!("what-it-is"), &observed.text, LONG)?;
    }
    Ok(())
}

/// Whether these answers can hold beside one another.
fn together(label: &str, choices: &[Choice], several: bool, said: &[&str]) -> Result<(), Problem> {
    if said.len() < 2 {
        return Ok(());
    }
    if !several {
        return Err(Problem::bad_input(
            say!("label-takes-one-answer", label = label),
            say!("choose-the-one-that-fits-best"),
        ));
    }
    let alone = choices
        .iter()
        .find(|c| c.alone && said.contains(&c.id.as_str()));
    if let Some(alone) = alone {
        return Err(Problem::bad_input(
            say!(
                "label-cant-hold-together-with-another-answer",
                label = alone.label
            ),
            say!("choose-either-it-or-the-others"),
        ));
    }
    let twice = (1..said.len()).any(|at| said[..at].contains(&said[at]));
    if twice {
        return Err(Problem::bad_input(
            say!("one-answer-to-label-stands-there-twice", label = label),
            say!("choose-each-once"),
        ));
    }
    Ok(())
}

pub(super) fn measured(loaded: &Loaded, measured: &Measured, sure: bool) -> Result<(), Problem> {
    known(loaded, &measured.step)?;
    text(term!("what-was-typed"), &measured.typed, super::SHORT)?;
    let evidence = asked(loaded, &measured.step, &measured.topic, |e| {
        e.number().is_some()
    })?;
    if let Some(asked) = evidence.number() {
        let (label, value) = (asked.label, measured.value);
        match quantity_of(asked.unit) {
            Some(of) => quantity(label, value, [asked.min, asked.max], of, loaded.units)?,
            None => number(label, value, asked.min, asked.max, asked.unit)?,
        }
    }
    match fluid::doubt(&loaded.state, measured, loaded.units).filter(|_| !sure) {
        Some(question) => Err(Problem::new(
            ProblemKind::Doubtful,
            question,
            say!("look-at-the-figure-and-its-unit-again"),
        )),
        None => Ok(()),
    }
}

fn asked<'a>(
    loaded: &'a Loaded,
    step: &str,
    topic: &str,
    fits: impl Fn(&Evidence) -> bool,
) -> Result<&'a Evidence, Problem> {
    loaded
        .procedure
        .topic(step, topic)
        .map(|want| &want.evidence)
        .filter(|evidence| fits(evidence))
        .ok_or_else(|| {
            Problem::bad_input(
                say!(
                    "the-step-step-does-not-ask-for-topic",
                    step = step,
                    topic = topic
                ),
                say!("go-back-to-the-job-and-choose-what"),
            )
        })
}

pub(super) fn decided(
    loaded: &Loaded,
    advised: AdviceChoice,
    chosen: AdviceChoice,
    reason: Option<&str>,
) -> Result<(), Problem> {
    let Some(now) = loaded
        .judged()
        .wear
        .clone()?
        .map(|a| a.advice.advised.choice())
    else {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("there-is-no-advice-yet-nothing-was-read"),
            say!("photograph-the-pan-a-magnet-or-the-patch"),
        ));
    };
    if now != advised {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("the-advice-has-changed-since-it-was-shown"),
            say!("read-it-again-and-decide-then"),
        ));
    }
    let reason = reason.unwrap_or_default();
    if chosen != advised {
        wanted_text(term!("why-you-decide-against-the-advice"), reason, LONG)?;
    }
    text(term!("the-reason"), reason, LONG)
}
