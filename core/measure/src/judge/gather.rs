//! From samples to one number with its uncertainty: contact, leads, meter.

use super::{JudgeError, Judgement, Leads, Reading};
use crate::conformity::Limits;
use crate::contact::{Contact, Sample, assess, coarsest};
use crate::uncertainty::{Estimate, quadrature, rectangular, sample_deviation};
use crate::unit::{Quantity, show, show_number};
use swarfbook_words::say;

/// What came of the samples.
pub(super) enum Gathered {
    /// No verdict is possible.
    Stop(Box<Judgement>),
    /// Open, with good contact shown.
    Open(Vec<String>),
    /// A number, to be held against the limits.
    Value(Taken),
}

/// A number at the part's own temperature, leads off.
pub(super) struct Taken {
    pub contact: Contact,
    pub estimate: Estimate,
    /// What the meter alone leaves in doubt of it: standard uncertainty.
    pub by_meter: f64,
    pub steps: Vec<String>,
    /// Something that would make the number better.
    pub hint: Option<String>,
}

/// A pair of leads reads 0.1 to 0.5 ohm (common practice, no published source):
/// the doubt left when they were not read.
const LEADS_UNREAD_OHMS: f64 = 0.5;

/// Leads above this are broken, or were not held together.
const LEADS_MOST_OHMS: f64 = 20.0;

/// Refuses what can't be.
pub(super) fn check(reading: &Reading) -> Result<(), JudgeError> {
    reading.meter.check()?;
    if let Some(temp) = reading.part_temp {
        if !(-50.0..=200.0).contains(&temp.celsius) {
            return Err(JudgeError::PartTemperature {
                celsius: temp.celsius,
            });
        }
        if let Some(half_width_c) = temp.half_width_c
            && !(0.0..=50.0).contains(&half_width_c)
        {
            return Err(JudgeError::TemperatureDoubt { half_width_c });
        }
    }
    if let Leads::Read { ohms, .. } = reading.leads
        && !(0.0..=LEADS_MOST_OHMS).contains(&ohms)
    {
        return Err(JudgeError::Leads { ohms });
    }
    let fits = |s: &Sample| match s {
        Sample::Open => true,
        Sample::Above { value } => value.is_finite() && *value > 0.0,
        Sample::Value { value, resolution } => {
            value.is_finite()
                && *resolution >= 0.0
                && resolution.is_finite()
                && (*value >= 0.0 || reading.quantity.may_be_negative())
        }
    };
    if reading.samples.iter().all(fits) {
        Ok(())
    } else {
        Err(JudgeError::Sample)
    }
}

/// Reads contact, takes the leads off, adds up what is in doubt.
pub(super) fn gather(reading: &Reading, limits: Limits) -> Gathered {
    let contact = assess(&reading.samples);
    if let Some(ask) = contact.ask(reading.contact_shown) {
        return Gathered::Stop(Box::new(stop(contact, limits, Vec::new(), ask)));
    }
    let Contact::Steady { mean, .. } = contact else {
        return Gathered::Open(vec![say!(
            "samples-looks-all-open-good-contact-was-shown",
            samples = reading.samples.len()
        )]);
    };
    let quantity = reading.quantity;
    let values = values(&reading.samples);
    let digit = coarsest(&reading.samples);
    // Looks through one probe share its error, so their spread is not divided
    // by the root of their number.
    let spread = sample_deviation(&values);
    let by_meter = reading.meter.standard_uncertainty(mean, digit);
    let mut steps = vec![
        say!(
            "values-looks-values-2-mean-mean-spread-spread",
            values = values.len(),
            values_2 = values
                .iter()
                .map(|v| show(*v, quantity))
                .collect::<Vec<_>>()
                .join(", "),
            mean = show(mean, quantity),
            spread = show(spread, quantity)
        ),
        say!(
            "meter-plus-minus-percent-percent-counts-counts-of",
            percent = show_number(reading.meter.accuracy.percent),
            counts = show_number(reading.meter.accuracy.counts),
            meter = show(reading.meter.count(digit), quantity),
            half_width = show(reading.meter.half_width(mean, digit), quantity),
            by_meter = show(by_meter, quantity)
        ),
    ];
    let mut parts = vec![spread];
    let mut value = mean;
    let mut meter_alone = by_meter;
    let mut hint = None;
    match reading.leads {
        Leads::Read { ohms, resolution } if quantity == Quantity::Resistance => {
            value -= ohms;
            let leads = LeadsOff {
                ohms,
                digit: resolution.unwrap_or(digit),
            };
            meter_alone = leads.standard_uncertainty(reading, [mean, value], digit, &mut steps);
        }
        Leads::Unread if quantity == Quantity::Resistance => {
            let u_leads = rectangular(LEADS_UNREAD_OHMS);
            parts.push(u_leads);
            steps.push(say!(
                "leads-not-read-up-to-leads-unread-ohms",
                leads_unread_ohms = show(LEADS_UNREAD_OHMS, quantity),
                u_leads = show(u_leads, quantity)
            ));
            if mean < 100.0 * LEADS_UNREAD_OHMS {
                hint = Some(say!("hold-the-probes-together-and-enter-what-the"));
            }
        }
        Leads::Read { .. } | Leads::Unread | Leads::Negligible => {}
    }
    parts.push(meter_alone);
    let u = quadrature(&parts);
    if value < -2.0 * u && !quantity.may_be_negative() {
        let ask = say!("the-leads-read-more-than-the-part-hold");
        return Gathered::Stop(Box::new(stop(contact, limits, steps, ask)));
    }
    Gathered::Value(Taken {
        contact,
        estimate: Estimate { value, u },
        by_meter: meter_alone,
        steps,
        hint,
    })
}

/// Leads that were read, and are taken off.
struct LeadsOff {
    ohms: f64,
    /// Worth of the last digit when they were read.
    digit: f64,
}

impl LeadsOff {
    /// Standard uncertainty of a reading (`mean`) with the leads off (`value`).
    ///
    /// GUM 5.2.2, two readings by one meter: on one range its zero and its gain
    /// are the same in both (correlation 1), so that the counts cancel in the
    /// difference and the percent acts on it; each last digit is rounded on its
    /// own. On two ranges nothing is taken to cancel.
    fn standard_uncertainty(
        &self,
        reading: &Reading,
        [mean, value]: [f64; 2],
        digit: f64,
        steps: &mut Vec<String>,
    ) -> f64 {
        let quantity = reading.quantity;
        let meter = &reading.meter;
        if (self.digit - digit).abs() <= 1e-9 * digit {
            let gain = rectangular(meter.accuracy.percent / 100.0 * value.abs());
            let rounding = rectangular(meter.count(digit) / 2.0);
            let u = quadrature(&[gain, rounding, rounding]);
            steps.push(say!(
                "leads-ohms-off-value-same-meter-same-range",
                ohms = show(self.ohms, quantity),
                value = show(value, quantity),
                u = show(u, quantity)
            ));
            return u;
        }
        let by_meter = meter.standard_uncertainty(mean, digit);
        let by_leads = meter.standard_uncertainty(self.ohms, self.digit);
        steps.push(say!(
            "leads-ohms-off-value-they-were-read-on",
            ohms = show(self.ohms, quantity),
            value = show(value, quantity),
            by_leads = show(by_leads, quantity)
        ));
        quadrature(&[by_meter, by_leads])
    }
}

/// A judgement without verdict.
pub(super) fn stop(contact: Contact, limits: Limits, steps: Vec<String>, ask: String) -> Judgement {
    Judgement {
        verdict: None,
        contact,
        open: false,
        short: false,
        value: None,
        corrected_value: None,
        u: None,
        limits,
        accepted: None,
        probability: None,
        place: None,
        words: say!("no-verdict-yet"),
        steps,
        ask: Some(ask),
    }
}

fn values(samples: &[Sample]) -> Vec<f64> {
    samples
        .iter()
        .filter_map(|s| match s {
            Sample::Value { value, .. } => Some(*value),
            Sample::Open | Sample::Above { .. } => None,
        })
        .collect()
}
