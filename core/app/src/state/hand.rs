//! Whose hand writes, in which units and with which tools: said in the job once, and again when
//! it changes, so that what was written before keeps them.

use std::collections::BTreeMap;

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{Hand, JobState, Stamp};
use swarfbook_measure::unit::Units;
use swarfbook_store::Store;

use super::settings::device_settings;
use crate::problem::Problem;

/// The lines that must stand before the next one of this device in a job, as it stands.
pub(crate) fn signature(store: &Store, state: &JobState) -> Result<Vec<Fact>, Problem> {
    // The line that opens the job is told by who stands right behind it.
    if state.lines.is_empty() {
        return Ok(Vec::new());
    }
    let settings = device_settings(store)?.unwrap_or_default();
    let known = state
        .hands
        .get(&store.device())
        .cloned()
        .unwrap_or_default();
    let mut lines = Vec::new();
    if known.name != settings.technician {
        lines.push(Fact::WrittenBy {
            name: settings.technician,
        });
    }
    if units_of(&known) != settings.units {
        lines.push(Fact::WrittenIn {
            units: names_of(settings.units),
        });
    }
    if known.tools != settings.tools {
        lines.push(Fact::MeasuredWith {
            tools: settings.tools,
        });
    }
    Ok(lines)
}

/// The units that a line was written in.
pub(crate) fn units(stamp: &Stamp) -> Units {
    units_of(&stamp.hand)
}

/// A unit that this version does not know is told in the log's own.
fn units_of(hand: &Hand) -> Units {
    serde_json::to_value(&hand.units)
        .and_then(serde_json::from_value)
        .unwrap_or_default()
}

fn names_of(units: Units) -> BTreeMap<String, String> {
    serde_json::to_value(units)
        .and_then(serde_json::from_value)
        .unwrap_or_default()
}
