//! A number that is far from its spec: most often a range read wrongly.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::unit::{Quantity, show};

/// Beyond this many times the spec's nearest limit, the range is asked about.
/// A shorted or a half-burnt winding stays below it. Common practice, no
/// published source.
const FACTOR: f64 = 50.0;

/// A question to put before a value is believed. The caller decides.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Doubt {
    /// Value over the nearest limit: above 50, or below 1/50.
    pub ratio: f64,
    /// The question, in words.
    pub question: String,
}

/// Whether a value (base unit) is so far off its limits that the range must be
/// asked about. Limits and value that are not above zero raise no doubt.
pub fn doubt(value: f64, low: Option<f64>, high: Option<f64>, quantity: Quantity) -> Option<Doubt> {
    let positive = |v: &f64| *v > 0.0 && v.is_finite();
    if !positive(&value) || quantity == Quantity::Temperature {
        return None;
    }
    let top = high.filter(positive);
    let bottom = low.filter(positive);
    if let Some(limit) = top
        && value > FACTOR * limit
    {
        let ratio = value / limit;
        return Some(Doubt {
            ratio,
            question: say!(
                "value-is-rough-times-the-specs-limit-value",
                value = show(value, quantity),
                rough = rough(ratio),
                limit = show(limit, quantity),
                value_2 = if quantity == Quantity::Resistance {
                    say!("is-the-meter-on-the-kilo-range")
                } else {
                    say!("is-the-unit-right")
                }
            ),
        });
    }
    if let Some(limit) = bottom
        && value * FACTOR < limit
    {
        let ratio = value / limit;
        return Some(Doubt {
            ratio,
            question: say!(
                "value-is-only-1-rough-of-the-specs",
                value = show(value, quantity),
                rough = rough(1.0 / ratio),
                limit = show(limit, quantity),
                value_2 = if quantity == Quantity::Resistance {
                    say!("did-the-meter-show-kilo-or-mega")
                } else {
                    say!("is-the-unit-right")
                }
            ),
        });
    }
    None
}

/// Two significant digits: 833.3 is "830".
fn rough(ratio: f64) -> String {
    let magnitude = 10f64.powf(ratio.abs().log10().floor() - 1.0);
    format!("{:.0}", (ratio / magnitude).round() * magnitude)
}
