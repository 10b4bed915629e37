//! Ohms of a part with voltage on it, from volts and amperes: as it works, warm, with what
//! the meter's own small current does not show.

use swarfbook_words::say;

use super::gather::{Gathered, Taken, check, gather, stop};
use super::{Conductor, JudgeError, Judgement, NO_LIMITS, Reading, Spec, conclude};
use crate::conformity::{Guard, Limits};
use crate::meter::Meter;
use crate::uncertainty::{Estimate, quadrature};
use crate::unit::{COVERAGE, Quantity, show, show_expanded};

/// Volts on a part and the amperes that flow.
#[derive(Debug, Clone, PartialEq)]
pub struct VoltsApplied {
    /// Looks at the ammeter or the clamp.
    pub amperes: Reading,
    /// Volt at the part while they flow, and the worth of its last digit; `None` where it
    /// was not read.
    pub volts: Option<(f64, f64)>,
    /// What the volts were read by.
    pub voltmeter: Meter,
}

/// Judges the ohms that volts and amperes come to; `limits` are in ohms.
///
/// `R = U / I`; with independent meters its relative variance is the sum of theirs (GUM 5.1.6).
/// The winding warms itself: no temperature is corrected, so that the limits are those of the
/// part as it is. No current that the ammeter could tell from none is an open, believed after
/// contact was shown.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right.
pub fn judge_applied(
    applied: &VoltsApplied,
    limits: Option<&Spec>,
    guard: Guard,
) -> Result<Judgement, JudgeError> {
    guard.check()?;
    limits.map_or(Ok(()), Spec::check)?;
    applied.voltmeter.check()?;
    check(&applied.amperes)?;
    let within = limits.map_or(NO_LIMITS, |spec| Limits {
        low: spec.low,
        high: spec.high,
    });
    let taken = match gather(&applied.amperes, within) {
        Gathered::Stop(judgement) => return Ok(*judgement),
        // An ammeter shows nought, not open.
        Gathered::Open(steps) => {
            let contact = crate::contact::assess(&applied.amperes.samples);
            let ask = say!("amperes-cant-be-open-type-what-the-ammeter");
            return Ok(stop(contact, within, steps, ask));
        }
        Gathered::Value(taken) => taken,
    };
    let Taken {
        contact,
        estimate: amperes,
        mut steps,
        ..
    } = taken;
    let Some((volts, digit)) = applied.volts.filter(|(volts, _)| *volts > 0.0) else {
        let ask = say!("enter-the-volts-at-the-part-while-the");
        return Ok(stop(contact, within, steps, ask));
    };
    let u_volts = applied.voltmeter.standard_uncertainty(volts, digit);
    if amperes.value <= COVERAGE * amperes.u {
        return Ok(nothing_flows(applied, within, volts, steps));
    }
    let ohms = volts / amperes.value;
    let u = ohms * quadrature(&[u_volts / volts, amperes.u / amperes.value]);
    steps.push(say!(
        "volts-over-amperes-is-ohms-gum-5-1",
        volts = show(volts, Quantity::Voltage),
        amperes = show(amperes.value, Quantity::Current),
        ohms = show_expanded(ohms, u, Quantity::Resistance)
    ));
    let taken = Taken {
        contact,
        estimate: Estimate { value: ohms, u },
        by_meter: u,
        steps,
        hint: None,
    };
    Ok(match limits {
        None => conclude::bare(taken, Quantity::Resistance),
        Some(spec) => conclude::value(&in_ohms(&applied.amperes), spec, guard, taken),
    })
}

/// What is compared is ohms of a part that is as warm as it is.
fn in_ohms(amperes: &Reading) -> Reading {
    Reading {
        quantity: Quantity::Resistance,
        conductor: Conductor::Other,
        part_temp: None,
        ..amperes.clone()
    }
}

fn nothing_flows(
    applied: &VoltsApplied,
    within: Limits,
    volts: f64,
    steps: Vec<String>,
) -> Judgement {
    let contact = crate::contact::assess(&applied.amperes.samples);
    let shown = applied.amperes.contact_shown;
    if shown.is_some_and(|shown| shown.is_good()) {
        return conclude::open(&in_ohms(&applied.amperes), within, steps);
    }
    // A blown fuse of the ammeter is the commonest false nought (common practice, no
    // published source).
    let ask = say!(
        "volts-and-no-current-show-that-the-ammeter",
        volts = show(volts, Quantity::Voltage)
    );
    stop(contact, within, steps, ask)
}
