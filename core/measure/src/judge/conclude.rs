//! From a number to a verdict with its words.

use super::gather::{Taken, stop};
use super::{Conductor, Judgement, PartTemp, Reading, Spec, sensor};
use crate::conformity::{Guard, Limits, Verdict, probability, verdict};
use crate::contact::Contact;
use crate::resistance::copper;
use crate::uncertainty::{Estimate, rectangular};
use crate::unit::{COVERAGE, Quantity, show, show_expanded, show_number, show_range, show_u};
use swarfbook_words::{fixed, say};

/// A part whose temperature was not taken is somewhere within so many kelvin
/// of the spec's (ours: a gearbox that has stood, or has been driven).
const UNKNOWN_TEMP_HALF_WIDTH_C: f64 = 20.0;

/// A winding's limits that name no temperature are assumed to hold at this one, °C, or
/// within [`UNSAID_LIMITS_HALF_WIDTH_C`] of it (our own assumption, no published source:
/// a workshop's room).
const UNSAID_LIMITS_C: f64 = 20.0;

/// See [`UNSAID_LIMITS_C`]; K.
const UNSAID_LIMITS_HALF_WIDTH_C: f64 = 10.0;

/// A winding may lag behind the place where its temperature was taken by this
/// share of the distance to the spec's temperature (ours). A fail must hold
/// through that, and as read; else it is to be confirmed at the spec's
/// temperature, as makers' manuals ask.
const WINDING_LAG: f64 = 0.25;

/// An open that is believed: out of spec, unless only a lower limit is asked for.
pub(super) fn open(reading: &Reading, limits: Limits, steps: Vec<String>) -> Judgement {
    let fails = limits.high.is_some();
    Judgement {
        verdict: Some(if fails {
            Verdict::OutOfSpec
        } else {
            Verdict::InSpec
        }),
        contact: Contact::Open,
        open: true,
        short: false,
        value: None,
        corrected_value: None,
        u: None,
        limits,
        accepted: None,
        probability: Some(if fails { 0.0 } else { 1.0 }),
        place: None,
        words: if fails {
            say!("open-no-current-can-pass-out-of-spec")
        } else if let Some(low) = limits.low {
            say!(
                "open-above-the-lowest-allowed-low-in-spec",
                low = show(low, reading.quantity)
            )
        } else {
            say!("open-which-the-limits-allow-in-spec")
        },
        steps,
        ask: None,
    }
}

/// The spec's temperature and the part's: as given, else as assumed.
struct Correction {
    from: Estimate,
    to: Estimate,
    /// The limits name no temperature.
    to_assumed: bool,
    /// By how much the winding itself may be off, K.
    lag_c: f64,
}

fn correction(reading: &Reading, spec: &Spec) -> Option<Correction> {
    let copper = reading.quantity == Quantity::Resistance && reading.conductor == Conductor::Copper;
    if !copper {
        return None;
    }
    let to = match spec.at_temp_c {
        Some(value) => Estimate { value, u: 0.0 },
        None => Estimate {
            value: UNSAID_LIMITS_C,
            u: rectangular(UNSAID_LIMITS_HALF_WIDTH_C),
        },
    };
    let (from, lag_c) = match reading.part_temp {
        Some(temp @ PartTemp { celsius, .. }) => (
            Estimate {
                value: celsius,
                u: temp.u(),
            },
            WINDING_LAG * (celsius - to.value).abs(),
        ),
        None => (
            Estimate {
                value: to.value,
                u: rectangular(UNKNOWN_TEMP_HALF_WIDTH_C),
            },
            UNKNOWN_TEMP_HALF_WIDTH_C,
        ),
    };
    Some(Correction {
        from,
        to,
        to_assumed: spec.at_temp_c.is_none(),
        lag_c,
    })
}

impl Correction {
    /// At which temperature the number that is compared holds, for a sentence.
    fn at_words(&self) -> String {
        let at = show_number(self.to.value);
        if self.to_assumed {
            say!("at-an-assumed-at-deg-c", at = at)
        } else {
            say!("at-at-deg-c", at = at)
        }
    }

    /// What to do where a temperature leaves the verdict open.
    fn ask(&self, reading: &Reading, hint: Option<String>) -> String {
        let first = match (reading.part_temp, self.to_assumed) {
            (None, false) => return say!("enter-the-parts-temperature"),
            (None, true) => {
                return say!("enter-the-parts-temperature-and-look-up-in");
            }
            (Some(_), true) => {
                say!("look-up-in-the-makers-data-the-temperature")
            }
            (Some(_), false) => say!("confirm-at-to-deg-c", to = show_number(self.to.value)),
        };
        match hint {
            Some(hint) => format!("{first} {hint}"),
            None => first,
        }
    }
}

/// Corrects, compares, and says so.
pub(super) fn value(reading: &Reading, spec: &Spec, guard: Guard, taken: Taken) -> Judgement {
    let Taken {
        contact,
        mut estimate,
        mut by_meter,
        mut steps,
        mut hint,
    } = taken;
    let limits = Limits {
        low: spec.low,
        high: spec.high,
    };
    let quantity = reading.quantity;
    let thermistor = reading.conductor == Conductor::Thermistor;
    if thermistor {
        let Some(at) = spec.at_temp_c else {
            let ask = say!("look-up-in-the-makers-data-the-temperature-that");
            return stop(contact, limits, steps, ask);
        };
        match sensor::at_its_limits(reading.part_temp, at, estimate, &mut steps) {
            Ok((doubted, asked)) => {
                estimate = doubted;
                hint = hint.or(asked);
            }
            Err(ask) => return stop(contact, limits, steps, ask),
        }
    }
    let correction = correction(reading, spec);
    let compared = match &correction {
        None => estimate,
        Some(c) => {
            let got = copper::correct(estimate, c.from, c.to);
            if c.to_assumed {
                steps.push(say!(
                    "the-limits-name-no-temperature-to-deg-c",
                    to = show_number(c.to.value),
                    unsaid_limits_half_width_c = show_number(UNSAID_LIMITS_HALF_WIDTH_C),
                    u = fixed(c.to.u, 1)
                ));
            }
            steps.push(correction_step(reading, c, got, quantity));
            by_meter *= copper::factor(c.from.value, c.to.value);
            got
        }
    };
    if correction.is_none()
        && !thermistor
        && let Some(at) = spec.at_temp_c
    {
        steps.push(say!("the-spec-holds-at-at-deg-c-no", at = show_number(at)));
    }
    let mut judged = compare(compared, limits, quantity, guard, &mut steps);
    let place = place(&judged, compared.value, by_meter, limits, quantity, guard);
    let mut ask = hint;
    if let Some(c) = &correction {
        let corrected_far =
            (c.from.value - c.to.value).abs() > 0.5 || reading.part_temp.is_none() || c.to_assumed;
        let fails =
            |e: Estimate| verdict(probability(e.value, e.u, limits), guard) == Verdict::OutOfSpec;
        // It must fail with the winding cooler, with it warmer, and as it was read.
        let holds = fails(estimate)
            && [-c.lag_c, c.lag_c].iter().all(|by| {
                let other = Estimate {
                    value: c.from.value + by,
                    u: c.from.u,
                };
                fails(copper::correct(estimate, other, c.to))
            });
        let near = judged.verdict == Verdict::TooCloseToCall
            || (judged.verdict == Verdict::OutOfSpec && !holds);
        if corrected_far && near {
            if judged.verdict == Verdict::OutOfSpec {
                steps.push(say!(
                    "the-fail-rests-on-the-correction-it-does",
                    lag_c = show_number(c.lag_c)
                ));
            }
            judged.verdict = Verdict::TooCloseToCall;
            ask = Some(c.ask(reading, ask));
        }
    }
    if judged.verdict == Verdict::TooCloseToCall && ask.is_none() {
        ask = Some(say!("take-it-with-a-finer-meter-or-range"));
    }
    let corrected_value = correction.is_some().then_some(compared.value);
    Judgement {
        verdict: Some(judged.verdict),
        contact,
        open: false,
        short: false,
        value: Some(estimate.value),
        corrected_value,
        u: Some(compared.u),
        limits,
        accepted: limits.accepted(compared.u, guard),
        probability: Some(judged.probability),
        words: words(
            compared,
            limits,
            quantity,
            &judged,
            place.as_deref(),
            &correction.map_or_else(String::new, |c| c.at_words()),
        ),
        place,
        steps,
        ask: match judged.verdict {
            Verdict::TooCloseToCall => ask,
            Verdict::InSpec | Verdict::OutOfSpec => None,
        },
    }
}

/// A number without limits.
pub(super) fn bare(taken: Taken, quantity: Quantity) -> Judgement {
    let Taken {
        contact,
        estimate,
        steps,
        ..
    } = taken;
    Judgement {
        verdict: None,
        contact,
        open: false,
        short: false,
        value: Some(estimate.value),
        corrected_value: None,
        u: Some(estimate.u),
        limits: super::NO_LIMITS,
        accepted: None,
        probability: None,
        place: None,
        words: say!(
            "estimate-no-limits-to-hold-it-against",
            estimate = show_expanded(estimate.value, estimate.u, quantity)
        ),
        steps,
        ask: None,
    }
}

/// Probability and what may be said at it.
pub(super) struct Compared {
    pub verdict: Verdict,
    pub probability: f64,
}

pub(super) fn compare(
    estimate: Estimate,
    limits: Limits,
    quantity: Quantity,
    guard: Guard,
    steps: &mut Vec<String>,
) -> Compared {
    let probability = probability(estimate.value, estimate.u, limits);
    steps.push(say!(
        "estimate-against-limits-probability-to-be-within",
        estimate = show_expanded(estimate.value, estimate.u, quantity),
        limits = limits_words(limits, quantity),
        probability = percent(probability),
        level = percent(guard.level)
    ));
    Compared {
        verdict: verdict(probability, guard),
        probability,
    }
}

/// Where a number lies that is too close to call because of the meter alone: with it not
/// even the middle of the limits reaches what is asked for.
pub(super) fn place(
    compared: &Compared,
    value: f64,
    by_meter: f64,
    limits: Limits,
    quantity: Quantity,
    guard: Guard,
) -> Option<String> {
    let (low, high) = limits.low.zip(limits.high)?;
    let middle = 0.5 * (low + high);
    if compared.verdict != Verdict::TooCloseToCall
        || probability(middle, by_meter, limits) >= guard.level
    {
        return None;
    }
    let tells = show_u(COVERAGE * by_meter, quantity);
    Some(if (value - middle).abs() <= 0.25 * (high - low) {
        say!("in-the-middle-this-meter-tells-only-plus", tells = tells)
    } else if limits.hold(value) {
        say!(
            "within-the-limits-this-meter-tells-only-plus",
            tells = tells
        )
    } else {
        say!(
            "outside-the-limits-this-meter-tells-only-plus",
            tells = tells
        )
    })
}

pub(super) fn words(
    estimate: Estimate,
    limits: Limits,
    quantity: Quantity,
    compared: &Compared,
    place: Option<&str>,
    at: &str,
) -> String {
    if let Some(place) = place {
        return say!(
            "estimate-at-against-limits-place",
            estimate = show_expanded(estimate.value, estimate.u, quantity),
            at = at,
            limits = limits_words(limits, quantity),
            place = place
        );
    }
    say!(
        "estimate-at-against-limits-verdict-probability-to-be",
        estimate = show_expanded(estimate.value, estimate.u, quantity),
        at = at,
        limits = limits_words(limits, quantity),
        verdict = compared.verdict.words(),
        probability = percent(compared.probability)
    )
}

fn correction_step(reading: &Reading, c: &Correction, got: Estimate, quantity: Quantity) -> String {
    let Some(temp) = reading.part_temp else {
        return say!(
            "parts-temperature-not-taken-to-deg-c-plus",
            to = show_number(c.to.value),
            unknown_temp_half_width_c = show_number(UNKNOWN_TEMP_HALF_WIDTH_C),
            u = fixed(c.from.u, 1),
            u_2 = show(got.u, quantity)
        );
    };
    say!(
        "parts-temperature-from-deg-c-plus-minus-half",
        from = show_number(c.from.value),
        half_width = show_number(temp.half_width()),
        u = fixed(c.from.u, 1),
        from_2 = show_number(c.from.value),
        to = show_number(c.to.value),
        to_2 = show_number(c.to.value),
        from_3 = show_number(c.from.value),
        factor = show_number(copper::factor(c.from.value, c.to.value)),
        got = show(got.value, quantity),
        u_2 = show(got.u, quantity)
    )
}

fn limits_words(limits: Limits, quantity: Quantity) -> String {
    match (limits.low, limits.high) {
        (Some(low), Some(high)) => show_range(low, high, quantity),
        (Some(low), None) => say!("at-least-low", low = show(low, quantity)),
        (None, Some(high)) => say!("at-most-high", high = show(high, quantity)),
        (None, None) => say!("no-limits"),
    }
}

/// `99.9 %`, never a rounded 100 or 0.
fn percent(p: f64) -> String {
    if p > 0.999 && p < 1.0 {
        say!("over-99-9-percent")
    } else if p > 0.0 && p < 0.001 {
        say!("under-0-1-percent")
    } else {
        format!("{} %", show_number((p * 1000.0).round() / 10.0))
    }
}
