//! A temperature sensor against its maker's table or B value, at the
//! temperature it was read at.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::gather::{Gathered, Taken, check, gather, stop};
use super::{JudgeError, Judgement, PROBE_HALF_WIDTH_C, Reading, SpecError, conclude};
use crate::conformity::{Guard, Limits, Verdict};
use crate::resistance::ntc::{Ntc, NtcData};
use crate::uncertainty::{Estimate, quadrature};
use crate::unit::{Quantity, show, show_number};

/// What the maker asks of a sensor.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SensorSpec {
    /// Table or B value.
    pub data: NtcData,
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
        let ask = say!("Enter the sensor's temperature: its resistance means nothing without it.");
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
        mut steps,
        hint,
    } = taken;
    let by_temperature = ntc.doubt_ohms(estimate.value, temp.celsius, temp.u())?;
    let compared = Estimate {
        value: estimate.value,
        u: quadrature(&[estimate.u, by_temperature]),
    };
    steps.push(say!("At {} °C the sensor may read {} to {}; the temperature may be {} K off either way, a standard uncertainty of {} K, which is {} here.", show_number(temp.celsius), show(limits.low.unwrap_or(0.0), Quantity::Resistance), show(limits.high.unwrap_or(0.0), Quantity::Resistance), show_number(temp.half_width()), show_number(temp.u()), show(by_temperature, Quantity::Resistance)));
    let judged = conclude::compare(compared, limits, Quantity::Resistance, guard, &mut steps);
    let ask = (judged.verdict == Verdict::TooCloseToCall).then(|| {
        hint.unwrap_or_else(|| if temp.half_width() > PROBE_HALF_WIDTH_C {
            say!(
                "Its temperature may be {} K off, which is too much here: measure it with a probe held to the sensor (within {} K), and take it again.",
                show_number(temp.half_width()),
                show_number(PROBE_HALF_WIDTH_C)
            )
        } else {
            say!("Let the sensor and its surroundings come to one temperature, measure that closely, and take it again.")
        })
    });
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
        words: conclude::words(compared, limits, Quantity::Resistance, &judged, None),
        steps,
        ask,
    })
}
