//! What a technician typed, and what it means.
//!
//! Two steps: the text is kept as typed, then read. Where it can mean two
//! things, or nothing, it is asked back with the reason; nothing is mended in
//! silence.

mod doubt;
mod error;
mod number;
mod shorthand;

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
    /// More than a meter or tester can show, which it tells (`>40M`).
    Above {
        /// What it can show, in the base unit.
        value: f64,
    },
    /// A number within what the meter can show.
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
            EnteredValue::Open | EnteredValue::Above { .. } => None,
        }
    }

    /// Worth of the last digit in the base unit; `None` when open.
    pub fn resolution(&self) -> Option<f64> {
        match self.value {
            EnteredValue::Number { resolution, .. } => Some(resolution),
            EnteredValue::Open | EnteredValue::Above { .. } => None,
        }
    }

    /// The top of a range: a number, or what it is said to be above.
    pub fn top(&self) -> Option<f64> {
        match self.value {
            EnteredValue::Number { value, .. } | EnteredValue::Above { value } => Some(value),
            EnteredValue::Open => None,
        }
    }
}

/// The longest text that can be a value; more is a slip or an attack.
const LONGEST: usize = 40;

/// How meters and people write "open": over load, over flow, over range.
const OPEN: &[&str] = &[
    "ol",
    "o.l",
    "o.l.",
    "0l",
    "0.l",
    "0.l.",
    ".ol",
    "of",
    "o.f",
    "o.f.",
    "0f",
    "0.f",
    "0.f.",
    "ofl",
    "o.fl",
    "0fl",
    "open",
    "over",
    "overload",
    "overflow",
    "over range",
    "overrange",
    "inf",
    "infinite",
    "infinity",
    "∞",
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
/// in `usual`, which measures that quantity; `OL`, `O.F`, `OFL`, `open` and `∞`
/// mean open and are taken for resistance only, as is `>40M`. Resistances may be
/// written as they are marked (`4k7`), distances in thousands (`150k`), and
/// amounts in fractions (`4½`). A comma before three digits groups thousands of
/// miles, since who counts miles writes a point before decimals.
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
    if let Some(rest) = text.strip_prefix(['>', '＞', '≥']) {
        return above(rest, text, quantity, usual);
    }
    if quantity == Quantity::Resistance
        && let Some(marked) = shorthand::marked(text)
    {
        let (number, letter) = marked?;
        let unit = match letter {
            'k' | 'K' => Unit::Kiloohm,
            'M' => Unit::Megaohm,
            _ => Unit::Ohm,
        };
        return checked(number, Scaled::of(unit), text, quantity);
    }
    if let Some((number, tail)) = shorthand::fraction(text) {
        let unit = unit_of(tail, text, quantity, usual)?;
        return checked(number, unit, text, quantity);
    }
    let (head, tail) = number::split(text);
    // "0L" is a meter's over range, but of a volume it is nought litres, and
    // "0F" of a temperature nought degrees.
    if head.is_empty() || (is_electrical(quantity) && is_open(text)) {
        return open(text, quantity);
    }
    let unit = unit_of(tail, text, quantity, usual);
    let miles = matches!(&unit, Ok(scaled) if scaled.unit == Unit::Mile);
    let number = number::read(head, text, quantity, miles)?;
    checked(number, unit?, text, quantity)
}

/// A unit, and how many of it one is: a thousand for `150k`.
#[derive(Clone, Copy)]
struct Scaled {
    unit: Unit,
    factor: f64,
}

impl Scaled {
    fn of(unit: Unit) -> Scaled {
        Scaled { unit, factor: 1.0 }
    }
}

fn is_electrical(quantity: Quantity) -> bool {
    matches!(
        quantity,
        Quantity::Resistance
            | Quantity::Voltage
            | Quantity::Frequency
            | Quantity::Current
            | Quantity::DutyCycle
    )
}

fn checked(
    number: Number,
    Scaled { unit, factor }: Scaled,
    text: &str,
    quantity: Quantity,
) -> Result<Entered, InputError> {
    let Number {
        value,
        step,
        significant_digits,
    } = number;
    let base = unit.to_base(value * factor);
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
            resolution: unit.difference_to_base(step * factor),
            significant_digits,
            unit,
        },
    })
}

/// `>550 MΩ`: a tester that tells how far it can see.
fn above(rest: &str, text: &str, quantity: Quantity, usual: Unit) -> Result<Entered, InputError> {
    let entered = parse_in(rest.trim_start_matches(['=', '>']), quantity, usual)?;
    let value = match entered.value {
        EnteredValue::Open => EnteredValue::Open,
        EnteredValue::Number { value, .. } | EnteredValue::Above { value } => {
            if quantity != Quantity::Resistance {
                return Err(InputError::OpenNotHere {
                    text: text.to_owned(),
                    quantity,
                });
            }
            EnteredValue::Above { value }
        }
    };
    Ok(Entered {
        text: text.to_owned(),
        quantity,
        value,
    })
}

/// The two units that a bare pint or quart may be, US and imperial; `None` where the unit
/// is another, or says which.
pub fn pint_or_quart(typed: &str) -> Option<[Unit; 2]> {
    let text = typed.trim();
    match shorthand::fraction(text) {
        Some((_, tail)) => either(tail),
        None => either(number::split(text).1),
    }
}

fn either(tail: &str) -> Option<[Unit; 2]> {
    match tail.to_lowercase().as_str() {
        "pt" | "pts" | "pint" | "pints" => Some([Unit::UsPint, Unit::ImperialPint]),
        "qt" | "qts" | "quart" | "quarts" => Some([Unit::UsQuart, Unit::ImperialQuart]),
        _ => None,
    }
}

/// Whether what was typed for a resistance may be a meter's sign for "over
/// range": some show a lone 1 at the left of the display, and nothing else.
pub fn is_lone_one(typed: &str) -> bool {
    matches!(typed.trim(), "1" | "1." | "1 .")
}

/// Reads a number that has no unit: a percentage, an angle, a ratio. It may be
/// below zero; a sign for per cent or degrees behind it says nothing new.
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
    let (head, tail) = number::split(text);
    let sign: String = tail.to_lowercase().split_whitespace().collect();
    match (head, sign.as_str()) {
        (head, "" | "%" | "percent" | "pct" | "prozent" | "°" | "deg" | "degrees" | "grad")
            if !head.is_empty() =>
        {
            // The quantity only says what a slip is called; a length has no other rule.
            number::read(head, text, Quantity::Length, false)
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

fn unit_of(tail: &str, text: &str, quantity: Quantity, usual: Unit) -> Result<Scaled, InputError> {
    if tail.is_empty() {
        return Ok(Scaled::of(usual));
    }
    if quantity == Quantity::Distance
        && let Some(thousand) = thousands(tail, usual)
    {
        return Ok(thousand);
    }
    // Where fluid is poured in imperial measures, a pint and a quart are those.
    if matches!(usual, Unit::ImperialPint | Unit::ImperialQuart)
        && let Some([_, imperial]) = either(tail)
    {
        return Ok(Scaled::of(imperial));
    }
    if tail == "m" && quantity == Quantity::Resistance {
        return Err(InputError::MilliOrMega {
            text: text.to_owned(),
        });
    }
    let meant = Unit::spelled(tail);
    match meant.iter().find(|u| u.quantity() == quantity) {
        Some(unit) => Ok(Scaled::of(*unit)),
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

/// `150k`, `150 k mi`, `150 tkm`: thousands, as odometers are told.
fn thousands(tail: &str, usual: Unit) -> Option<Scaled> {
    let plain: String = tail
        .to_lowercase()
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '.')
        .collect();
    let unit = match plain.as_str() {
        "k" | "tsd" => usual,
        "kmi" | "kmile" | "kmiles" => Unit::Mile,
        "kkm" | "tkm" | "tsdkm" => Unit::Kilometre,
        _ => return None,
    };
    Some(Scaled {
        unit,
        factor: 1000.0,
    })
}

#[cfg(test)]
mod tests;
