//! Insulation to ground: no path is good, a path is a short, and a maker's
//! minimum decides what lies between.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::gather::{Gathered, check, gather, stop};
use super::{Conductor, JudgeError, Judgement, Leads, Reading, Spec, conclude};
use crate::conformity::{Guard, Limits, Verdict};
use crate::contact::{Contact, ContactShown, Sample, assess, open_above};
use crate::meter::Meter;
use crate::unit::{Quantity, show, show_expanded};

/// Readings from a part's terminal to its body.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Insulation {
    /// Looks at the meter.
    pub samples: Vec<Sample>,
    /// The meter used.
    pub meter: Meter,
    /// The most the meter can show, ohm: an open says no more than that. What a
    /// sample is said to be above says it too.
    pub range_top_ohms: Option<f64>,
    /// How good contact was shown with these leads.
    pub contact_shown: Option<ContactShown>,
}

/// Below this there is a path to ground, whatever limits were entered: a coil that
/// is sound reads open, or megohms (common practice, no published source).
pub const SHORT_BELOW_OHMS: f64 = 1000.0;

/// Judges insulation; `minimum` is the maker's least, in ohms with its source.
///
/// Open is what one hopes for here, so it is believed only after good contact
/// was shown; against a minimum it counts only up to the top of the meter's
/// range. A path of less than [`SHORT_BELOW_OHMS`] is a short with any minimum
/// and without one. Parts that are grounded by their case have nothing to be
/// judged here; that is for the caller to know.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right.
pub fn judge_insulation(
    insulation: &Insulation,
    minimum: Option<(f64, &str)>,
    guard: Guard,
) -> Result<Judgement, JudgeError> {
    guard.check()?;
    let spec = minimum.map(|(ohms, source)| Spec {
        quantity: Quantity::Resistance,
        low: Some(ohms),
        high: None,
        at_temp_c: None,
        source: source.to_owned(),
    });
    if let Some(spec) = &spec {
        spec.check()?;
    }
    let reading = Reading {
        quantity: Quantity::Resistance,
        samples: insulation.samples.clone(),
        leads: Leads::Negligible,
        part_temp: None,
        conductor: Conductor::Other,
        meter: insulation.meter,
        contact_shown: insulation.contact_shown,
    };
    check(&reading)?;
    let limits = Limits {
        low: minimum.map(|(ohms, _)| ohms),
        high: None,
    };
    Ok(match gather(&reading, limits) {
        Gathered::Stop(judgement) => seen(*judgement, &insulation.samples),
        Gathered::Open(steps) => open(insulation, limits, steps),
        Gathered::Value(taken) if taken.estimate.value < SHORT_BELOW_OHMS => Judgement {
            verdict: Some(Verdict::OutOfSpec),
            short: true,
            limits,
            probability: Some(0.0),
            words: say!(
                "short-to-ground-estimate-under-about-short-below",
                estimate =
                    show_expanded(taken.estimate.value, taken.estimate.u, Quantity::Resistance),
                short_below_ohms = show(SHORT_BELOW_OHMS, Quantity::Resistance)
            ),
            ..conclude::bare(taken, Quantity::Resistance)
        },
        Gathered::Value(taken) => match &spec {
            Some(spec) => conclude::value(&reading, spec, guard, taken),
            None => conclude::bare(taken, Quantity::Resistance),
        },
    })
}

/// A path that one look showed is told, whatever the others showed.
fn seen(judgement: Judgement, samples: &[Sample]) -> Judgement {
    let path = samples.iter().find_map(|sample| match sample {
        Sample::Value { value, .. } if *value < SHORT_BELOW_OHMS => Some(*value),
        _ => None,
    });
    let ask = match (path, judgement.ask) {
        (Some(ohms), Some(ask)) => Some(say!(
            "a-path-to-ground-was-seen-ohms-ask",
            ohms = show(ohms, Quantity::Resistance),
            ask = ask
        )),
        (_, ask) => ask,
    };
    Judgement { ask, ..judgement }
}

/// No path was found.
fn open(insulation: &Insulation, limits: Limits, steps: Vec<String>) -> Judgement {
    let ohms = |value: f64| show(value, Quantity::Resistance);
    let top = insulation
        .range_top_ohms
        .or_else(|| open_above(&insulation.samples));
    let good = |words: String| Judgement {
        verdict: Some(Verdict::InSpec),
        open: true,
        probability: Some(1.0),
        words,
        ask: None,
        ..stop(Contact::Open, limits, steps.clone(), String::new())
    };
    let not_yet = |ask: String| {
        let contact = assess(&insulation.samples);
        stop(contact, limits, steps.clone(), ask)
    };
    match (limits.low, top) {
        (None, None) => good(say!("no-path-to-ground-open-that-is-good")),
        (None, Some(top)) => good(say!(
            "no-path-to-ground-more-than-top-that",
            top = ohms(top)
        )),
        (Some(_), None) => not_yet(say!("it-shows-open-enter-the-most-the-meter")),
        (Some(minimum), Some(top)) if top < minimum => not_yet(say!(
            "open-on-this-meter-says-only-more-than",
            top = ohms(top),
            minimum = ohms(minimum)
        )),
        (Some(minimum), Some(top)) => good(say!(
            "more-than-top-to-ground-at-least-minimum",
            top = ohms(top),
            minimum = ohms(minimum)
        )),
    }
}
