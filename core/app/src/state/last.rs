//! What was chosen last in this shop, of what seldom changes from job to job.

use swarfbook_job::fact::{Fact, Reading};
use swarfbook_job::fold::JobState;
use swarfbook_job::id::EntryId;
use swarfbook_store::Store;

use crate::problem::Problem;
use crate::settings::{LastChoices, ReadIn};

/// The name that it is kept under.
const LAST_CHOICES: &str = "last_choices";

/// So many units of displays are kept, the newest last.
const MOST_UNITS: usize = 64;

/// What was chosen last.
pub(crate) fn last_choices(store: &Store) -> Result<LastChoices, Problem> {
    Ok(store.setting(LAST_CHOICES)?.unwrap_or_default())
}

/// Keeps what a line chose; `job` is the one that it was written in.
pub(crate) fn keep_choices(store: &Store, job: &JobState, fact: &Fact) -> Result<(), Problem> {
    let before = last_choices(store)?;
    let mut last = before.clone();
    match fact {
        Fact::SpecEntered { spec, .. } if !spec.source.trim().is_empty() => {
            spec.source.trim().clone_into(&mut last.source);
        }
        Fact::ReadingTaken { component, reading } => {
            if let Some(applied) = &reading.applied {
                last.amps_by = Some(applied.by);
            }
            if let Some(unit) = read_in(job, *component, reading) {
                let other = |one: &ReadIn| !same(one, &unit);
                last.read_in.retain(other);
                last.read_in.push(unit);
                let over = last.read_in.len().saturating_sub(MOST_UNITS);
                last.read_in.drain(..over);
            }
        }
        _ => {}
    }
    if last != before {
        store.set(LAST_CHOICES, &last)?;
    }
    Ok(())
}

fn same(one: &ReadIn, other: &ReadIn) -> bool {
    (one.quantity, one.kind, &one.meter) == (other.quantity, other.kind, &other.meter)
}

/// The unit that a number off a display was written with; what is open has none.
fn read_in(job: &JobState, component: EntryId, reading: &Reading) -> Option<ReadIn> {
    reading.display?;
    let typed = reading.samples.last()?;
    if !typed.ends_with(|c: char| c.is_ascii_alphanumeric()) || typed == "OL" {
        return None;
    }
    let units = reading.quantity.row().displayed;
    let named = |typed_unit: &str| !typed_unit.is_empty() && typed.ends_with(typed_unit);
    let unit = (units.iter().find(|unit| named(unit.typed)))
        .or_else(|| units.iter().find(|unit| unit.typed.is_empty()))?;
    let mut parts = job.components.iter();
    let part = parts.find(|part| part.stamp.entry == component)?;
    Some(ReadIn {
        quantity: reading.quantity,
        kind: part.component.kind,
        meter: reading.meter.name.clone(),
        symbol: unit.symbol.to_owned(),
    })
}
