//! Steps that tick themselves when the last of their evidence arrives.

use std::collections::BTreeSet;

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_judge::tick::{self, brings};
use swarfbook_store::Store;
use swarfbook_words::say;

use crate::problem::Problem;
use crate::state::{App, Loaded, load};

/// Writes a line with the ticks that it brings, and gives it; `before` is the job without it.
/// Within [`Store::together`], so that both are there or nothing.
pub(super) fn append(
    app: &App,
    store: &Store,
    before: &Loaded,
    job: JobId,
    fact: Fact,
) -> Result<EntryId, Problem> {
    let entry = super::append_to(app, store, &before.state, vec![fact.clone()])?
        .ok_or_else(|| Problem::not_found(say!("the-line-was-not-written")))?;
    settle(app, store, before, job, (entry, &fact))?;
    Ok(entry)
}

/// Writes the ticks of the steps that the line `by` made ready; `before` is
/// the job without that line. Nothing is ticked that was ready before: there
/// the technician has taken a tick back, or wants to press it. And nothing is
/// ticked by a line of something else: what one did at another step is not done here.
fn settle(
    app: &App,
    store: &Store,
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
        .filter(|step| brings(&after.procedure, fact, step))
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

fn ready(loaded: &Loaded) -> BTreeSet<String> {
    tick::ready(&loaded.state, &loaded.procedure, loaded.judged())
}
