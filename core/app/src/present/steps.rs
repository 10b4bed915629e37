//! Stages and steps as they stand.

use swarfbook_job::fold::Mark;
use swarfbook_job::procedure::{Evidence, Gate, Stage, Step};
use swarfbook_words::{say, term};

use super::{count_words, line, wants};
use crate::assess::{Assessed, course};
use crate::serve::{Loaded, hand};
use crate::view::{LineView, StageView, Standing, StepView};

pub(super) fn stages(loaded: &Loaded, assessed: &Assessed) -> Vec<StageView> {
    let Loaded {
        state, procedure, ..
    } = loaded;
    let lines = line::lines_by_step(loaded);
    let opening = course::opening(state);
    let again = course::decides_again(state, assessed);
    let decides = |step: &Step| {
        let mut wants = step.evidence.iter();
        wants.any(|want| matches!(want.evidence, Evidence::Decision))
    };
    let past = |stage: &Stage| opening && course::closes(procedure, stage);
    let open = |stage: &Stage, step: &Step| !past(stage) && !state.steps.contains_key(&step.id);
    // A decision that is older than the evidence comes before all else.
    let mut in_hand = procedure
        .steps()
        .find(|(stage, step)| {
            if again {
                decides(step)
            } else {
                open(stage, step)
            }
        })
        .map(|(_, step)| step.id.as_str());
    let mut stages = Vec::with_capacity(procedure.stages.len());
    for (index, stage) in procedure.stages.iter().enumerate() {
        let led_past = past(stage);
        let mut steps = Vec::with_capacity(stage.steps.len());
        for step in &stage.steps {
            let standing = match state.steps.get(&step.id).map(|s| &s.mark) {
                // The decision that stands is older than the evidence.
                Some(_) if again && in_hand == Some(step.id.as_str()) => {
                    in_hand = None;
                    Standing::InHand
                }
                Some(Mark::Ticked) => Standing::Done,
                Some(Mark::Skipped(_)) => Standing::Skipped,
                None if led_past => Standing::Passed,
                None if in_hand == Some(step.id.as_str()) => {
                    in_hand = None;
                    Standing::InHand
                }
                None => Standing::Later,
            };
            let of_step = lines.get(step.id.as_str()).cloned().unwrap_or_default();
            steps.push(step_view(loaded, assessed, step, standing, of_step));
        }
        stages.push(StageView {
            id: stage.id.clone(),
            number: u32::try_from(index + 1).unwrap_or(u32::MAX),
            title: stage.title.clone(),
            caution: stage.caution.clone(),
            standing: of_steps(&steps),
            steps,
        });
    }
    stages
}

fn of_steps(steps: &[StepView]) -> Standing {
    let is = |standing| move |s: &StepView| s.standing == standing;
    if steps.iter().any(is(Standing::InHand)) {
        Standing::InHand
    } else if steps.iter().any(is(Standing::Later)) {
        Standing::Later
    } else if steps.iter().all(is(Standing::Passed)) {
        Standing::Passed
    } else if steps.iter().all(is(Standing::Skipped)) {
        Standing::Skipped
    } else {
        Standing::Done
    }
}

fn step_view(
    loaded: &Loaded,
    assessed: &Assessed,
    step: &Step,
    standing: Standing,
    lines: Vec<LineView>,
) -> StepView {
    let wants = wants::wants(loaded, assessed, step);
    let skip_reason = match loaded.state.steps.get(&step.id).map(|s| &s.mark) {
        Some(Mark::Skipped(reason)) => Some(reason.clone()),
        None if standing == Standing::Skipped => {
            Some(say!("The decision is to open up: this is not led through."))
        }
        _ => None,
    };
    StepView {
        id: step.id.clone(),
        title: step.title.clone(),
        text: step.text.clone(),
        why: step.why.clone(),
        caution: step.caution.clone(),
        standing,
        skip_reason,
        in_the_way: blocks_of(loaded, step, &wants),
        wants,
        lines,
    }
}

/// What stands in the way of ticking a step, in words; empty when nothing.
pub(crate) fn in_the_way(loaded: &Loaded, step: &str) -> Vec<String> {
    match loaded.procedure.step(step) {
        Some((_, step)) => blocks(loaded, &Assessed::of(&loaded.state, &loaded.beside), step),
        None => Vec::new(),
    }
}

/// The same of a job that is already judged.
pub(crate) fn blocks(loaded: &Loaded, assessed: &Assessed, step: &Step) -> Vec<String> {
    blocks_of(loaded, step, &wants::wants(loaded, assessed, step))
}

fn blocks_of(loaded: &Loaded, step: &Step, wants: &[crate::view::WantView]) -> Vec<String> {
    let state = &loaded.state;
    let mut blocks: Vec<String> = wants
        .iter()
        .filter(|want| !want.have && !want.want.optional)
        .map(|want| say!("Still to do: {}.", wants::label(&want.want.evidence)))
        .collect();
    if step.gate == Some(Gate::PartsBack) && state.still_off() > 0 {
        let off: Vec<String> = state
            .parts
            .iter()
            .filter(|p| p.off() > 0)
            .map(|p| super::part_words(&p.part, p.off(), hand::units(&p.stamp)))
            .collect();
        blocks.push(say!(
            "{} still off the car: {}.",
            count_words(state.still_off(), term!("thing is"), term!("things are")),
            off.join("; ")
        ));
    }
    blocks
}
