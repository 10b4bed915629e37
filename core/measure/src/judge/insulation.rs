//! Insulation to ground against an entered minimum.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::gather::stop;
use super::{Conductor, JudgeError, Judgement, Reading, Spec, judge};
use crate::conformity::{Guard, Limits};
use crate::contact::{Contact, ContactShown, Sample, assess};
use crate::meter::Meter;
use crate::unit::{Quantity, show};

/// Readings from a part's terminal to its body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Insulation {
    /// Looks at the meter.
    pub samples: Vec<Sample>,
    /// The meter used.
    pub meter: Meter,
    /// The most the meter can show, ohm: an open says no more than that.
    pub range_top_ohms: Option<f64>,
    /// How good contact was shown with these leads.
    pub contact_shown: Option<ContactShown>,
}

/// Judges insulation against a minimum in ohms, entered with its source.
///
/// Open is what one hopes for here, so it is believed only after good contact
/// was shown, and only up to the top of the meter's range.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right.
pub fn judge_insulation(
    insulation: &Insulation,
    minimum_ohms: f64,
    source: &str,
    guard: Guard,
) -> Result<Judgement, JudgeError> {
    let spec = Spec {
        quantity: Quantity::Resistance,
        low: Some(minimum_ohms),
        high: None,
        at_temp_c: None,
        source: source.to_owned(),
    };
    let reading = Reading {
        quantity: Quantity::Resistance,
        samples: insulation.samples.clone(),
        // Nothing against megohms; taken as nil so that no hint is given.
        leads_ohms: Some(0.0),
        part_temp: None,
        conductor: Conductor::Other,
        meter: insulation.meter,
        contact_shown: insulation.contact_shown,
    };
    let judged = judge(&reading, &spec, guard)?;
    if !judged.open {
        return Ok(judged);
    }
    let limits = Limits {
        low: Some(minimum_ohms),
        high: None,
    };
    let short_of = |ask: String| {
        stop(
            assess(&insulation.samples),
            limits,
            judged.steps.clone(),
            ask,
        )
    };
    Ok(match insulation.range_top_ohms {
        None => short_of(say!(
            "It shows open. Enter the most the meter can show, such as 40 Mohm."
        )),
        Some(top) if top < minimum_ohms => short_of(say!(
            "Open on this meter says only: more than {}. Take an insulation tester that reaches {}.",
            show(top, Quantity::Resistance),
            show(minimum_ohms, Quantity::Resistance)
        )),
        Some(top) => Judgement {
            contact: Contact::Open,
            words: say!(
                "More than {} to ground, at least {} asked for: in spec.",
                show(top, Quantity::Resistance),
                show(minimum_ohms, Quantity::Resistance)
            ),
            ..judged
        },
    })
}
