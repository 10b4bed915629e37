//! What one key can enter instead of several.

use swarfbook_job::fact::ReadingKind;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Evidence, TopicRole};
use swarfbook_judge::part::Part;
use swarfbook_measure::conformity::ReadingVerdict;
use swarfbook_measure::unit::Units;
use swarfbook_words::say;

use super::units::{measured_typed, measured_words, trim};
use crate::state::Loaded;
use crate::view::OfferView;

/// The offers for one wish. They are what this job or the procedure's file
/// holds already; a figure of the maker's is never made up.
pub(super) fn of(loaded: &Loaded, evidence: &Evidence) -> Vec<OfferView> {
    let Loaded { state, units, .. } = loaded;
    match evidence {
        Evidence::Measure {
            unit, quick, about, ..
        } => {
            let earlier = about.as_ref().and_then(|topic| sum(state, topic));
            let earlier = earlier.map(|value| OfferView {
                label: say!(
                    "measured-as-before",
                    measured = measured_words(value, unit, *units)
                ),
                value: measured_typed(value, unit, *units),
            });
            let quick = quick.iter().map(|value| {
                let value = measured_typed(*value, unit, *units);
                OfferView {
                    label: value.clone(),
                    value,
                }
            });
            earlier.into_iter().chain(quick).collect()
        }
        Evidence::Tighten { .. } => torques(state, *units),
        Evidence::Replace {
            electrical: true, ..
        } => out_of_spec(&loaded.judged().parts),
        Evidence::Readings {
            quantity: ReadingKind::Resistance,
        } => as_drained(state, *units).into_iter().collect(),
        _ => Vec::new(),
    }
}

fn sum(state: &JobState, topic: &str) -> Option<f64> {
    let mut values = state
        .measured
        .iter()
        .filter(|m| m.topic == topic)
        .map(|m| m.value)
        .peekable();
    values.peek()?;
    Some(values.sum())
}

/// How warm the fluid was that came out: about as warm as the parts that lay in it.
fn as_drained(state: &JobState, units: Units) -> Option<OfferView> {
    let celsius = state.last_measure(TopicRole::FluidOutC)?;
    Some(OfferView {
        label: say!(
            "measured-as-the-fluid-that-came-out",
            measured = measured_words(celsius, "°C", units)
        ),
        value: measured_typed(celsius, "°C", units),
    })
}

/// Torques that were used in this job, the last first.
fn torques(state: &JobState, units: Units) -> Vec<OfferView> {
    let mut offers: Vec<OfferView> = Vec::new();
    for done in state.tightened.iter().rev() {
        let Some(nm) = done.tightened.torque_nm else {
            continue;
        };
        let value = trim(units.torque.from_base(nm));
        if offers.iter().all(|offer| offer.value != value) {
            offers.push(OfferView {
                label: say!(
                    "value-unit-as-what",
                    value = value,
                    unit = units.torque.symbol(),
                    what = done.tightened.what
                ),
                value,
            });
        }
    }
    offers
}

/// Parts in the car that are out of spec.
fn out_of_spec(parts: &[Part]) -> Vec<OfferView> {
    parts
        .iter()
        .filter(|part| part.standing == Some(ReadingVerdict::OutOfSpec))
        .map(|part| OfferView {
            value: part.entry.to_string(),
            label: part.name.clone(),
        })
        .collect()
}
