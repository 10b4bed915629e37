//! Reading a procedure file, with the line and the reason when it is bad.

use std::collections::BTreeSet;
use swarfbook_words::{say, term};

use super::{Answer, Choice, Evidence, Procedure, role};

/// Why a procedure file can't be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("line-line-reason", line = line, reason = reason))]
pub struct ProcedureError {
    /// Line in the file, from 1.
    pub line: usize,
    /// What is wrong and what to do.
    pub reason: String,
}

/// Reads and checks a procedure.
///
/// # Errors
/// The first fault found, with its line: not TOML, a missing or unknown field,
/// an empty stage, a name used twice, a name with other letters than `a-z`,
/// `0-9`, `-` and `_`, limits the wrong way round, an answer's role that its question
/// does not have.
///
/// A file without any role is from before there were any: the names of the procedure that
/// ships stand for them.
pub fn load(text: &str) -> Result<Procedure, ProcedureError> {
    let mut procedure: Procedure = toml::from_str(text).map_err(|error| ProcedureError {
        line: error
            .span()
            .map_or(1, |span| line_of_offset(text, span.start)),
        reason: error.message().trim().to_owned(),
    })?;
    check(text, &procedure)?;
    if !procedure.has_roles() {
        procedure.roles_by_id();
    }
    Ok(procedure)
}

fn check(text: &str, procedure: &Procedure) -> Result<(), ProcedureError> {
    check_name(text, &procedure.id)?;
    if procedure.stages.is_empty() {
        return Err(ProcedureError {
            line: 1,
            reason: say!("there-is-no-stage-a-procedure-needs-at"),
        });
    }
    let mut stages = BTreeSet::new();
    let mut steps = BTreeSet::new();
    for stage in &procedure.stages {
        check_name(text, &stage.id)?;
        stage
            .drawing
            .iter()
            .try_for_each(|name| check_name(text, name))?;
        if !stages.insert(stage.id.as_str()) {
            return Err(twice(text, term!("the-stage"), &stage.id));
        }
        if stage.steps.is_empty() {
            return Err(ProcedureError {
                line: line_of_id(text, &stage.id, 1),
                reason: say!("the-stage-stage-has-no-step", stage = stage.id),
            });
        }
        for step in &stage.steps {
            check_name(text, &step.id)?;
            step.drawing
                .iter()
                .try_for_each(|name| check_name(text, name))?;
            if !steps.insert(step.id.as_str()) {
                return Err(twice(text, term!("the-step"), &step.id));
            }
            check_evidence(text, step)?;
        }
    }
    Ok(())
}

fn check_evidence(text: &str, step: &super::Step) -> Result<(), ProcedureError> {
    let fault = |reason: String| ProcedureError {
        line: line_of_id(text, &step.id, 1),
        reason,
    };
    let mut topics = BTreeSet::new();
    for want in &step.evidence {
        if let Some(topic) = want.evidence.topic() {
            check_name(text, topic)?;
            if !topics.insert(topic) {
                return Err(fault(say!(
                    "the-step-step-asks-for-topic-twice",
                    step = step.id,
                    topic = topic
                )));
            }
        }
        if let Some(choice) = unknown_role(&want.evidence) {
            return Err(fault(say!(
                "the-role-role-of-the-answer-choice-is",
                role = choice.role.as_deref().unwrap_or_default(),
                choice = choice.id
            )));
        }
        match &want.evidence {
            Evidence::Observe { topic, choices, .. } if choices.len() < 2 => {
                return Err(fault(say!(
                    "topic-needs-at-least-two-choices-to-choose",
                    topic = topic
                )));
            }
            Evidence::Measure {
                topic,
                min,
                max,
                step: turn,
                ..
            } if !(min < max && *turn > 0.0) => {
                return Err(fault(say!(
                    "topic-needs-min-below-max-and-a-step",
                    topic = topic
                )));
            }
            Evidence::Timed { topic, max_s, .. } if !(*max_s > 0.0 && max_s.is_finite()) => {
                return Err(fault(say!("topic-needs-a-max-s-above-zero", topic = topic)));
            }
            _ => {}
        }
    }
    Ok(())
}

/// The first answer whose role says nothing as an answer to its question.
fn unknown_role(evidence: &Evidence) -> Option<&Choice> {
    let (choices, about) = match evidence {
        Evidence::Observe { choices, role, .. } => (choices, *role),
        Evidence::Complaint { symptoms, .. } => (symptoms, None),
        _ => return None,
    };
    let is_complaint = matches!(evidence, Evidence::Complaint { .. });
    choices.iter().find(|choice| {
        choice.role.as_deref().is_some_and(|name| {
            if is_complaint {
                role::symptom(name).is_none()
            } else {
                about.and_then(|about| Answer::named(about, name)).is_none()
            }
        })
    })
}

fn check_name(text: &str, name: &str) -> Result<(), ProcedureError> {
    let good = !name.is_empty()
        && name.len() <= 64
        && name
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-' || b == b'_');
    if good {
        Ok(())
    } else {
        Err(ProcedureError {
            line: line_of_id(text, name, 1),
            reason: say!("name-cant-be-a-name-use-a-to", name = name),
        })
    }
}

fn twice(text: &str, what: &str, name: &str) -> ProcedureError {
    ProcedureError {
        line: line_of_id(text, name, 2),
        reason: say!(
            "what-name-stands-there-a-second-time-give",
            what = what,
            name = name
        ),
    }
}

/// The line of the `nth` `id = "name"`; 1 when it is written some other way.
fn line_of_id(text: &str, name: &str, nth: usize) -> usize {
    text.lines()
        .enumerate()
        .filter(|(_, line)| {
            line.split_once('=').is_some_and(|(key, value)| {
                key.trim() == "id" && value.trim().trim_matches(['"', '\'']) == name
            })
        })
        .nth(nth - 1)
        .map_or(1, |(index, _)| index + 1)
}

fn line_of_offset(text: &str, offset: usize) -> usize {
    text.bytes().take(offset).filter(|b| *b == b'\n').count() + 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::BUILT_IN;

    const GOOD: &str = r#"id = "short"
version = 1
title = "Short"

[[stage]]
id = "one"
title = "One"

[[stage.step]]
id = "look"
title = "Look"

[[stage.step]]
id = "write"
title = "Write"
"#;

    fn check(text: &str, line: usize, part: &str) {
        let error = load(text).expect_err("must be refused");
        assert_eq!(error.line, line, "{error}");
        assert!(error.reason.contains(part), "{error}");
    }

    #[test]
    fn the_built_in_procedure_has_the_ten_stages() {
        let procedure = load(BUILT_IN).expect("ships whole");
        let titles: Vec<_> = procedure.stages.iter().map(|s| s.title.as_str()).collect();
        assert_eq!(
            titles,
            [
                "Take in",
                "Open up",
                "Drain",
                "Read the pan",
                "Test",
                "Put right",
                "Close up",
                "Fill",
                "Prove",
                "Hand over"
            ]
        );
        assert_eq!(procedure.steps().count(), 36);
    }

    #[test]
    fn faults_are_told_with_line_and_reason() {
        load(GOOD).expect("good");
        check(&GOOD.replace("\"write\"", "\"look\""), 14, "a second time");
        check(&GOOD.replace("\"one\"", "\"One!\""), 6, "can't be a name");
        check(
            &GOOD.replace("title = \"Look\"", "titel = \"Look\""),
            11,
            "titel",
        );
        check(
            &GOOD.replace("version = 1", "version = \"x\""),
            2,
            "expected",
        );
        check("id = ", 1, "");
        check(
            "id = \"a\"\nversion = 1\ntitle = \"A\"\nstage = []\n",
            1,
            "no stage",
        );
    }

    #[test]
    fn a_measure_with_limits_the_wrong_way_round_is_refused() {
        let text = GOOD.replace(
            "title = \"Look\"",
            "title = \"Look\"\nevidence = [{ kind = \"measure\", topic = \"t\", label = \"T\", unit = \"l\", min = 5.0, max = 1.0, step = 0.1 }]",
        );
        check(&text, 10, "min below max");
    }

    #[test]
    fn a_time_that_may_take_no_time_is_refused() {
        for max_s in ["0.0", "-1.0", "nan", "inf"] {
            let wish = format!(
                "evidence = [{{ kind = \"timed\", topic = \"t\", label = \"T\", max_s = {max_s} }}]"
            );
            let text = GOOD.replace("title = \"Look\"", &format!("title = \"Look\"\n{wish}"));
            check(&text, 10, "max_s above zero");
        }
    }
}
