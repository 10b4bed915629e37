//! Which step may be ticked, why not, and which ticks itself.

use std::collections::BTreeSet;

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Evidence, Gate, Procedure, Step, TopicRole};

use crate::has::{closes_nothing, has};
use crate::{Judged, level};

/// What stands in the way of a tick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Block<'a> {
    /// What the step asks for is not there.
    Missing(&'a Evidence),
    /// Parts are still off the car.
    PartsOff,
}

/// What stands in the way of ticking a step; empty when nothing.
pub fn blocks<'a>(state: &JobState, judged: &Judged, step: &'a Step) -> Vec<Block<'a>> {
    let wanted = step.evidence.iter().filter(|want| !want.optional);
    let mut blocks: Vec<Block<'a>> = wanted
        .filter(|want| !has(state, judged, step, &want.evidence))
        .map(|want| Block::Missing(&want.evidence))
        .collect();
    if step.gate == Some(Gate::PartsBack) && state.still_off() > 0 {
        blocks.push(Block::PartsOff);
    }
    blocks
}

/// Open steps that may tick themselves and miss nothing, by their ids.
pub fn ready(state: &JobState, procedure: &Procedure, judged: &Judged) -> BTreeSet<String> {
    procedure
        .steps()
        .map(|(_, step)| step)
        .filter(|step| {
            step.ticks_itself
                && !state.steps.contains_key(&step.id)
                && step.evidence.iter().any(|want| !want.optional)
                && !held(state, step)
        })
        .filter(|step| blocks(state, judged, step).is_empty())
        .map(|step| step.id.clone())
        .collect()
}

/// The line is of that step: it names it, or is what the step asks for.
pub fn brings(procedure: &Procedure, fact: &Fact, step: &str) -> bool {
    let asked = procedure.step(step).map(|(_, step)| step);
    let asks = |kind: fn(&Evidence) -> bool| {
        let wants = asked.iter().flat_map(|step| &step.evidence);
        wants.map(|want| &want.evidence).any(kind)
    };
    let here = |at: &str| at == step;
    match fact {
        Fact::CarNoted { .. } => asks(|e| matches!(e, Evidence::Car)),
        Fact::ComplaintNoted { .. } => asks(|e| matches!(e, Evidence::Complaint { .. })),
        Fact::CodesRead { moment, .. } => asked
            .iter()
            .flat_map(|step| &step.evidence)
            .any(|want| want.evidence == Evidence::Codes { moment: *moment }),
        Fact::GoAheadGiven { .. } => asks(|e| matches!(e, Evidence::GoAhead)),
        Fact::Noted { step, .. }
        | Fact::PhotoTaken { step, .. }
        | Fact::PartReplaced { step, .. }
        | Fact::Tightened { step, .. } => here(step),
        Fact::Observed { observed } => here(&observed.step),
        Fact::Measured { measured } => here(&measured.step),
        Fact::PartOff { part } => here(&part.step),
        Fact::PartBack { .. } => asks(|e| matches!(e, Evidence::PartsBack)),
        Fact::CensusConfirmed { .. } => asks(|e| matches!(e, Evidence::Census)),
        Fact::Decided { .. } => asks(|e| matches!(e, Evidence::Decision)),
        Fact::ComponentNoted { .. } => asks(|e| matches!(e, Evidence::Components)),
        Fact::SpecEntered { .. } | Fact::ReadingTaken { .. } => {
            asks(|e| matches!(e, Evidence::Readings { .. }))
        }
        // A report that is made is not yet read through and given; the rest is no work at a step.
        _ => false,
    }
}

/// What was answered asks for more work at this step.
fn held(state: &JobState, step: &Step) -> bool {
    step.evidence.iter().any(|want| match &want.evidence {
        Evidence::Observe {
            topic,
            role,
            choices,
            ..
        } => {
            let key = (step.id.clone(), topic.clone());
            let answer = state.observed.get(&key);
            answer.is_some_and(|seen| {
                seen.choices()
                    .any(|id| choices.iter().any(|c| c.id == id && c.hold))
                    || (*role == Some(TopicRole::LevelSeen) && !level::is_set(state))
            })
        }
        // Where the level is read on a dipstick there are no plugs to close: that asks for
        // the technician's own tick.
        Evidence::Tighten { role, .. } => closes_nothing(state, *role),
        _ => false,
    })
}
