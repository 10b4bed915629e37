//! Steps that tick themselves when the last of their evidence arrives.

use std::collections::BTreeSet;
use swarfbook_words::say;

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_job::procedure::{Evidence, Step};
use swarfbook_store::Store;

use crate::assess::fluid;
use crate::present;
use crate::problem::Problem;
use crate::state::App;
use crate::state::{Loaded, load};

/// Writes a line with the ticks that it brings, or nothing at all, and gives it;
/// `before` is the job without it.
pub(super) fn append(
    app: &App,
    store: &mut Store,
    before: &Loaded,
    job: JobId,
    fact: Fact,
) -> Result<EntryId, Problem> {
    store.together(|store| {
        let entry = super::append_to(app, store, &before.state, vec![fact.clone()])?
            .ok_or_else(|| Problem::not_found(say!("The line was not written.")))?;
        settle(app, store, before, job, (entry, &fact))?;
        Ok(entry)
    })
}

/// Writes the ticks of the steps that the line `by` made ready; `before` is
/// the job without that line. Nothing is ticked that was ready before: there
/// the technician has taken a tick back, or wants to press it. And nothing is
/// ticked by a line of something else: what one did at another step is not done here.
fn settle(
    app: &App,
    store: &mut Store,
    before: &Loaded,
    job: JobId,
    (by, fact): (EntryId, &Fact),
) -> Result<(), Problem> {
    let after = load(app, store, job)?;
    let ready = ready(&after);
    if ready.is_empty() {
        return Ok(());
    }
    let was_ready = self::ready(before);
    let facts: Vec<Fact> = ready
        .difference(&was_ready)
        .filter(|step| brings(&after, fact, step))
        .map(|step| Fact::StepSettled {
            step: step.clone(),
            by,
        })
        .collect();
    if !facts.is_empty() {
        super::append_to(app, store, &after.state, facts)?;
    }
    Ok(())
}

/// Open steps that may tick themselves and miss nothing.
fn ready(loaded: &Loaded) -> BTreeSet<String> {
    let open = || {
        loaded
            .procedure
            .steps()
            .map(|(_, step)| step)
            .filter(|step| {
                step.ticks_itself
                    && !loaded.state.steps.contains_key(&step.id)
                    && step.evidence.iter().any(|want| !want.optional)
                    && !held(loaded, step)
            })
    };
    if open().next().is_none() {
        return BTreeSet::new();
    }
    open()
        .filter(|step| present::blocks(loaded, step).is_empty())
        .map(|step| step.id.clone())
        .collect()
}

/// The line is of that step: it names it, or is what the step asks for.
fn brings(loaded: &Loaded, fact: &Fact, step: &str) -> bool {
    let asked = loaded.procedure.step(step).map(|(_, step)| step);
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
fn held(loaded: &Loaded, step: &Step) -> bool {
    step.evidence.iter().any(|want| match &want.evidence {
        Evidence::Observe { topic, choices, .. } => {
            let key = (step.id.clone(), topic.clone());
            let answer = loaded.state.observed.get(&key);
            answer.is_some_and(|seen| {
                seen.choices()
                    .any(|id| choices.iter().any(|c| c.id == id && c.hold))
                    || (topic == fluid::LEVEL_SEEN && !fluid::level_set(&loaded.state))
            })
        }
        // Where the level is read on a dipstick there are no plugs to close: that asks for
        // the technician's own tick.
        Evidence::Tighten { what, .. } => {
            what == fluid::PLUGS && fluid::has_dipstick(&loaded.state)
        }
        _ => false,
    })
}
