//! Rule 7. A step is ticked only by what was done for that step.

use std::collections::BTreeMap;

use swarfbook_app::view::{JobView, StepView};
use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::procedure::Evidence;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::Told;
use super::TICKS;

pub fn check(told: &Told) -> Vec<Found> {
    let job = &told.screens(Language::En).job;
    let mut found = by_others(&told.state, job);
    // Reports that were made to be read here tick nothing.
    if let Some(after) = &told.after {
        for (was, now) in steps(job).zip(steps(after)) {
            if was.standing != now.standing && now.skip_reason.is_none() {
                let done = now.standing == swarfbook_app::view::Standing::Done;
                if done {
                    found.push(Found {
                        rule: TICKS,
                        place: format!("job/{}", now.id),
                        sentence: format!("Done: {}", now.title),
                        why: "only a report was made".into(),
                    });
                }
            }
        }
    }
    found
}

fn steps(job: &JobView) -> impl Iterator<Item = &StepView> {
    job.stages.iter().flat_map(|stage| &stage.steps)
}

/// Ticks that came with a line of something else.
fn by_others(state: &JobState, job: &JobView) -> Vec<Found> {
    let lines: BTreeMap<_, &LineState> = state
        .lines
        .iter()
        .map(|line| (line.stamp.entry, line))
        .collect();
    let mut found = Vec::new();
    for line in state
        .lines
        .iter()
        .filter(|line| line.retracted_by.is_none())
    {
        let Some(Fact::StepSettled { step, by }) = &line.fact else {
            continue;
        };
        let brought = lines.get(by).and_then(|line| line.fact.as_ref());
        let view = steps(job).find(|view| view.id == *step);
        let belongs = brought
            .zip(view)
            .is_some_and(|(fact, view)| belongs(state, fact, view));
        if !belongs {
            found.push(Found {
                rule: TICKS,
                place: format!("job/{step}"),
                sentence: format!("Done: {step}"),
                why: format!("ticked by {brought:?}"),
            });
        }
    }
    found
}

/// The line is of that step: it names it, or is what it asks for.
fn belongs(state: &JobState, fact: &Fact, step: &StepView) -> bool {
    let asks =
        |wanted: fn(&Evidence) -> bool| step.wants.iter().any(|want| wanted(&want.want.evidence));
    let at = |id: &str| id == step.id;
    match fact {
        Fact::CarNoted { .. } => asks(|e| matches!(e, Evidence::Car)),
        Fact::ComplaintNoted { .. } => asks(|e| matches!(e, Evidence::Complaint { .. })),
        Fact::CodesRead { .. } => {
            asks(|e| matches!(e, Evidence::Codes { .. } | Evidence::Explains))
        }
        Fact::GoAheadGiven { .. } => asks(|e| matches!(e, Evidence::GoAhead)),
        Fact::Noted { step, .. }
        | Fact::PartReplaced { step, .. }
        | Fact::Tightened { step, .. }
        | Fact::StepTicked { step } => at(step),
        Fact::Observed { observed } => at(&observed.step),
        Fact::Measured { measured } => at(&measured.step),
        Fact::PhotoTaken { step, .. } => at(step),
        Fact::PartOff { part } => at(&part.step),
        Fact::PartBack { .. } => asks(|e| matches!(e, Evidence::PartsBack)),
        Fact::CensusMade { photo, .. }
        | Fact::CensusConfirmed { photo }
        | Fact::ParticleCorrected { photo, .. } => {
            asks(|e| matches!(e, Evidence::Census))
                || state.photo(*photo).is_some_and(|p| at(&p.step))
        }
        Fact::Decided { .. } => asks(|e| matches!(e, Evidence::Decision)),
        Fact::ComponentNoted { .. } => asks(|e| matches!(e, Evidence::Components)),
        Fact::ReadingTaken { .. } | Fact::SpecEntered { .. } => {
            asks(|e| matches!(e, Evidence::Readings { .. }))
        }
        // A report that is made is not yet read through and given.
        _ => false,
    }
}
