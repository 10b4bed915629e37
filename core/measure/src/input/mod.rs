//! What a technician typed, and what it means.
//!
//! Two steps: the text is kept as typed, then read. Where it can mean two
//! things, or nothing, it is asked back with the reason; nothing is mended in
//! silence.

mod doubt;
mod error;
mod number;

pub use doubt::{Doubt, doubt};
pub use error::InputError;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::unit::{Quantity, Unit};
use number::Number;

/// A typed value, understood.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Entered {
    /// Exactly what was typed, without blanks at the ends.
    pub text: String,
    /// What is measured.
    pub quantity: Quantity,
    /// What it means.
    pub value: EnteredValue,
}

/// A number, or the meter's "over range".
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum EnteredValue {
    /// The meter shows open (`OL`): no path, or more than its range.
    Open,
    /// A number.
    Number {
        /// In the base unit of the quantity (ohm, volt, °C, N·m, l, mm, km, Hz).
        value: f64,
        /// Worth of the last digit typed, in the base unit: `12.4` has 0.1, `0.4k` has 100.
        resolution: f64,
        /// Digits that mean something: `12.40` has 4, `0.4` has 1.
        significant_digits: u32,
        /// The unit typed, or the base unit when none was.
        unit: Unit,
    },
}

impl Entered {
    /// The number in the base unit; `None` when open.
    pub fn number(&self) -> Option<f64> {
        match self.value {
            EnteredValue::Number { value, .. } => Some(value),
            EnteredValue::Open => None,
        }
    }

    /// Worth of the last digit in the base unit; `None` when open.
    pub fn resolution(&self) -> Option<f64> {
        match self.value {
            EnteredValue::Number { resolution, .. } => Some(resolution),
            EnteredValue::Open => None,
        }
    }
}

/// The longest text that can be a value; more is a slip or an attack.
const LONGEST: usize = 40;

/// How meters and people write "open".
const OPEN: &[&str] = &[
    "ol", "o.l", "o.l.", "0l", "0.l", "0.l.", ".ol", "open", "over", "overload", "inf", "infinite",
    "infinity", "∞",
];

/// Reads what was typed as a value of `quantity`, a bare number in its base unit.
///
/// # Errors
/// [`InputError`] in words that can be shown as they are.
pub fn parse(typed: &str, quantity: Quantity) -> Result<Entered, InputError> {
    parse_in(typed, quantity, quantity.base())
}

/// Reads what was typed as a value of `quantity`.
///
/// A decimal comma and a decimal point are both understood; a bare number is
/// in `usual`, which measures that quantity; `OL`, `O.L`, `0.L`, `open` and `∞` mean open and
/// are taken for resistance only.
///
/// # Errors
/// [`InputError`] in words that can be shown as they are.
pub fn parse_in(typed: &str, quantity: Quantity, usual: Unit) -> Result<Entered, InputError> {
    let text = typed.trim();
    if text.is_empty() {
        return Err(InputError::Empty { quantity });
    }
    if text.chars().count() > LONGEST {
        return Err(InputError::TooLong { quantity });
    }
    let (head, tail) = number::split(text);
    // "0L" is a meter's over range, but of a volume it is nought litres.
    if head.is_empty() || (quantity != Quantity::Volume && is_open(text)) {
        return open(text, quantity);
    }
    let Number {
        value,
        step,
        significant_digits,
    } = number::read(head, text, quantity)?;
    let unit = unit_of(tail, text, quantity, usual)?;
    let base = unit.to_base(value);
    if base < 0.0 && !quantity.may_be_negative() {
        return Err(InputError::Negative {
            text: text.to_owned(),
            quantity,
        });
    }
    if quantity == Quantity::Temperature && base < ABSOLUTE_ZERO_C {
        return Err(InputError::BelowAbsoluteZero {
            text: text.to_owned(),
        });
    }
    Ok(Entered {
        text: text.to_owned(),
        quantity,
        value: EnteredValue::Number {
            value: base,
            resolution: unit.difference_to_base(step),
            significant_digits,
            unit,
        },
    })
}

/// Reads a number that has no unit: a percentage, an angle, a ratio. It may be
/// below zero.
///
/// # Errors
/// [`InputError::NotBare`], [`InputError::Ambiguous`].
pub fn parse_bare(typed: &str) -> Result<f64, InputError> {
    let text = typed.trim();
    let not_bare = || InputError::NotBare {
        text: text.chars().take(LONGEST).collect(),
    };
    if text.chars().count() > LONGEST {
        return Err(not_bare());
    }
    match number::split(text) {
        (head, "") if !head.is_empty() => {
            // The quantity only says what a slip is called; a length has no other rule.
            number::read(head, text, Quantity::Length)
                .map(|number| number.value)
                .map_err(|why| match why {
                    InputError::NotANumber { .. } => not_bare(),
                    other => other,
                })
        }
        _ => Err(not_bare()),
    }
}

const ABSOLUTE_ZERO_C: f64 = -273.15;

fn is_open(text: &str) -> bool {
    OPEN.contains(&without_unit(text).as_str())
}

/// `OL kΩ` is `ol`: the meter shows its range beside the letters.
fn without_unit(text: &str) -> String {
    let lower = text.to_lowercase().replace(['ω', '\u{2126}'], "");
    let mut word = lower.trim();
    for suffix in ["kohm", "mohm", "ohm"] {
        word = word.strip_suffix(suffix).unwrap_or(word).trim();
    }
    for suffix in [" k", " m"] {
        word = word.strip_suffix(suffix).unwrap_or(word).trim();
    }
    word.to_owned()
}

fn open(text: &str, quantity: Quantity) -> Result<Entered, InputError> {
    if !is_open(text) {
        return Err(InputError::NotANumber {
            text: text.to_owned(),
            quantity,
        });
    }
    if quantity != Quantity::Resistance {
        return Err(InputError::OpenNotHere {
            text: text.to_owned(),
            quantity,
        });
    }
    Ok(Entered {
        text: text.to_owned(),
        quantity,
        value: EnteredValue::Open,
    })
}

fn unit_of(tail: &str, text: &str, quantity: Quantity, usual: Unit) -> Result<Unit, InputError> {
    if tail.is_empty() {
        return Ok(usual);
    }
    if tail == "m" && quantity == Quantity::Resistance {
        return Err(InputError::MilliOrMega {
            text: text.to_owned(),
        });
    }
    let meant = Unit::spelled(tail);
    match meant.iter().find(|u| u.quantity() == quantity) {
        Some(unit) => Ok(*unit),
        None => Err(match meant.first() {
            Some(other) => InputError::WrongUnit {
                text: text.to_owned(),
                unit: *other,
                quantity,
            },
            None => InputError::UnknownUnit {
                text: text.to_owned(),
                unit: tail.to_owned(),
                quantity,
            },
        }),
    }
}

#[cfg(test)]
mod tests;
