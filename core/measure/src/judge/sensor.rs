//! A temperature sensor against its maker's table or B value, at the
//! temperature it was read at.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::SensorData;
use swarfbook_words::say;
use ts_rs::TS;

use super::gather::{Gathered, Taken, check, gather, stop};
use super::{JudgeError, Judgement, PROBE_HALF_WIDTH_C, PartTemp, Reading, SpecError, conclude};
use crate::conformity::{Guard, Limits, Verdict};
use crate::resistance::ntc::Ntc;
use crate::uncertainty::{Estimate, quadrature, rectangular};
use crate::unit::{Quantity, show, show_number};

/// What the maker asks of a sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SensorSpec {
    /// Table or B value.
    pub data: SensorData,
    /// Where it was read: manual, page, issue.
    pub source: String,
}

/// Judges a falling temperature sensor. Its limits are those at the
/// temperature it had; what is in doubt of that temperature becomes ohms.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right.
pub fn judge_sensor(
    reading: &Reading,
    spec: &SensorSpec,
    guard: Guard,
) -> Result<Judgement, JudgeError> {
    guard.check()?;
    check(reading)?;
    if spec.source.trim().is_empty() {
        return Err(SpecError::NoSource.into());
    }
    if reading.quantity != Quantity::Resistance {
        return Err(JudgeError::OtherQuantity {
            reading: reading.quantity,
            spec: Quantity::Resistance,
        });
    }
    let ntc = Ntc::new(spec.data.clone())?;
    let Some(temp) = reading.part_temp else {
        let none = Limits {
            low: None,
            high: None,
        };
        let contact = crate::contact::assess(&reading.samples);
        let ask = say!("enter-the-sensors-temperature-its-resistance-means");
        return Ok(stop(contact, none, Vec::new(), ask));
    };
    let limits = ntc.limits_at(temp.celsius)?;
    let taken = match gather(reading, limits) {
        Gathered::Stop(judgement) => return Ok(*judgement),
        Gathered::Open(steps) => return Ok(conclude::open(reading, limits, steps)),
        Gathered::Value(taken) => taken,
    };
    let Taken {
        contact,
        estimate,
        by_meter,
        mut steps,
        hint,
    } = taken;
    let by_temperature = ntc.doubt_ohms(estimate.value, temp.celsius, temp.u())?;
    let compared = Estimate {
        value: estimate.value,
        u: quadrature(&[estimate.u, by_temperature]),
    };
    steps.push(say!(
        "at-celsius-deg-c-the-sensor-may-read",
        celsius = show_number(temp.celsius),
        low = show(limits.low.unwrap_or(0.0), Quantity::Resistance),
        high = show(limits.high.unwrap_or(0.0), Quantity::Resistance),
        half_width = show_number(temp.half_width()),
        u = show_number(temp.u()),
        by_temperature = show(by_temperature, Quantity::Resistance)
    ));
    let judged = conclude::compare(compared, limits, Quantity::Resistance, guard, &mut steps);
    let place = conclude::place(
        &judged,
        compared.value,
        by_meter,
        limits,
        Quantity::Resistance,
        guard,
    );
    let ask = (judged.verdict == Verdict::TooCloseToCall)
        .then(|| hint.unwrap_or_else(|| closer_temperature(temp)));
    Ok(Judgement {
        verdict: Some(judged.verdict),
        contact,
        open: false,
        short: false,
        value: Some(compared.value),
        corrected_value: None,
        u: Some(compared.u),
        limits,
        accepted: limits.accepted(compared.u, guard),
        probability: Some(judged.probability),
        words: conclude::words(
            compared,
            limits,
            Quantity::Resistance,
            &judged,
            place.as_deref(),
            "",
        ),
        place,
        steps,
        ask,
    })
}

/// What to do about a temperature that leaves too much in doubt.
fn closer_temperature(temp: PartTemp) -> String {
    if temp.half_width() > PROBE_HALF_WIDTH_C {
        say!(
            "its-temperature-may-be-half-width-k-off",
            half_width = show_number(temp.half_width()),
            probe_half_width_c = show_number(PROBE_HALF_WIDTH_C)
        )
    } else {
        say!("let-the-sensor-and-its-surroundings-come-to")
    }
}

/// A temperature sensor's ohms change by no more than this a kelvin where one is tested
/// (common practice, no published source; from the B values in use, 3 to 5 %).
const SHARE_PER_K: f64 = 0.05;

/// A sensor's number for limits that hold at `at_c`: with the doubt of its temperature in it,
/// and what to ask if that is too much.
///
/// # Errors
/// What to ask for, where its temperature is not known to be that of the limits.
pub(super) fn at_its_limits(
    temp: Option<PartTemp>,
    at_c: f64,
    ohms: Estimate,
    steps: &mut Vec<String>,
) -> Result<(Estimate, Option<String>), String> {
    let Some(temp) = temp else {
        return Err(say!("enter-the-sensors-temperature-its-resistance-means"));
    };
    let off = (temp.celsius - at_c).abs();
    if off > temp.half_width() {
        return Err(say!(
            "the-limits-hold-at-at-c-deg-c",
            at_c = show_number(at_c),
            celsius = show_number(temp.celsius),
            at_c_2 = show_number(at_c)
        ));
    }
    let by_temperature = SHARE_PER_K * ohms.value * rectangular(off + temp.half_width());
    steps.push(say!(
        "the-limits-hold-at-at-c-deg-c-the",
        at_c = show_number(at_c),
        half_width = show_number(off + temp.half_width()),
        by_temperature = show(by_temperature, Quantity::Resistance)
    ));
    let doubted = Estimate {
        value: ohms.value,
        u: quadrature(&[ohms.u, by_temperature]),
    };
    Ok((doubted, Some(closer_temperature(temp))))
}
