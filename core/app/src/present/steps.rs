//! Stages and steps as they stand.

use swarfbook_job::fold::Mark;
use swarfbook_job::procedure::{Evidence, Step};
use swarfbook_judge::course;
use swarfbook_judge::onward;
use swarfbook_judge::tick::{Block, blocks};
use swarfbook_words::say;

use super::{line, wants};
use crate::state::Loaded;
use crate::state::hand;
use crate::view::{AnswerAsked, LineView, StageView, Standing, StepView, ToGive};

pub(super) fn stages(loaded: &Loaded) -> Vec<StageView> {
    let lines = line::lines_by_step(loaded);
    course::stages(&loaded.state, &loaded.procedure, loaded.judged().advised())
        .into_iter()
        .enumerate()
        .map(|(index, stands)| StageView {
            id: stands.stage.id.clone(),
            number: u32::try_from(index + 1).unwrap_or(u32::MAX),
            title: stands.stage.title.clone(),
            caution: stands.stage.caution.clone(),
            drawing: named(stands.stage.drawing.as_ref(), &stands.stage.id),
            standing: stands.standing,
            steps: stands
                .steps
                .into_iter()
                .map(|(step, standing)| {
                    let of_step = lines.get(step.id.as_str()).cloned().unwrap_or_default();
                    step_view(loaded, step, standing, of_step)
                })
                .collect(),
        })
        .collect()
}

/// The drawing that a procedure names, else the one of that id.
fn named(drawing: Option<&String>, id: &str) -> String {
    drawing.map_or(id, String::as_str).to_owned()
}

fn step_view(loaded: &Loaded, step: &Step, standing: Standing, lines: Vec<LineView>) -> StepView {
    let wants = wants::wants(loaded, step);
    let skip_reason = match loaded.state.steps.get(&step.id).map(|s| &s.mark) {
        Some(Mark::Skipped(reason)) => Some(reason.clone()),
        None if standing == Standing::Skipped => Some(say!("the-decision-is-to-open-up-this-is")),
        _ => None,
    };
    StepView {
        id: step.id.clone(),
        title: step.title.clone(),
        text: step.text.clone(),
        why: step.why.clone(),
        caution: step.caution.clone(),
        drawing: named(step.drawing.as_ref(), &step.id),
        standing,
        skip_reason,
        in_the_way: in_the_way(loaded, step),
        often_skipped: onward::often_skipped(&loaded.state, loaded.judged(), step),
        wants,
        lines,
    }
}

/// The report that waits to be given.
pub(super) fn to_give(loaded: &Loaded) -> Option<ToGive> {
    let step = onward::to_give(&loaded.state, &loaded.procedure, loaded.judged())?;
    Some(ToGive {
        step: step.id.clone(),
        title: step.title.clone(),
        answer: answer_asked(loaded),
    })
}

fn answer_asked(loaded: &Loaded) -> Option<AnswerAsked> {
    let (step, asked) = onward::answer_asked(&loaded.state, &loaded.procedure)?;
    let Evidence::Observe {
        topic,
        label,
        choices,
        ..
    } = asked
    else {
        return None;
    };
    Some(AnswerAsked {
        step: step.id.clone(),
        topic: topic.clone(),
        label: label.clone(),
        choices: choices.clone(),
    })
}

/// What stands in the way of ticking a step, in words; empty when nothing.
pub(crate) fn in_the_way(loaded: &Loaded, step: &Step) -> Vec<String> {
    let state = &loaded.state;
    let words = |block: Block<'_>| match block {
        Block::Missing(evidence) => say!("still-to-do-label", label = wants::label(evidence)),
        Block::PartsOff => {
            let off: Vec<String> = state
                .parts
                .iter()
                .filter(|p| p.off() > 0)
                .map(|p| super::part_words(&p.part, p.off(), hand::units(&p.stamp)))
                .collect();
            say!(
                "count-still-off-the-car-off",
                count = say!("n-things-are", n = state.still_off()),
                off = off.join("; ")
            )
        }
    };
    let blocks = blocks(state, loaded.judged(), step);
    blocks.into_iter().map(words).collect()
}
