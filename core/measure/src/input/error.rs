//! Why a typed value was not taken.

use crate::unit::{Quantity, Unit};
use swarfbook_words::{say, term};

/// Why a typed value was not taken; the text can be shown as it is.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum InputError {
    #[error("{}", say!("Nothing was entered. Enter the {}.", quantity.word()))]
    Empty { quantity: Quantity },
    #[error("{}", say!("That is too long to be a {}. Enter a number and its unit.", quantity.word()))]
    TooLong { quantity: Quantity },
    #[error("{}", say!("\"{}\" is not a {}. Enter a number, with its unit if it is not {}.", text, quantity.word(), quantity.base().symbol()))]
    NotANumber { text: String, quantity: Quantity },
    #[error("{}", say!("\"{}\" is not a number. Enter digits, with a point or a comma at most once.", text))]
    NotBare { text: String },
    #[error("{}", say!("\"{}\" can be {} or {}. Enter it again without the separator: {} or {}.", text, small, large, small, large))]
    Ambiguous {
        text: String,
        small: String,
        large: String,
    },
    #[error("{}", say!("\"{}\": a small m is milli, a big M is mega. Enter it again with mohm or Mohm.", text))]
    MilliOrMega { text: String },
    #[error("{}", say!("\"{}\" is in {}, which is a {}, but a {} is asked for.", text, unit.symbol(), unit.quantity().word(), quantity.word()))]
    WrongUnit {
        text: String,
        unit: Unit,
        quantity: Quantity,
    },
    #[error("{}", say!("\"{}\": the unit \"{}\" is not known for a {}. Use {}.", text, unit, quantity.word(), known(*quantity)))]
    UnknownUnit {
        text: String,
        unit: String,
        quantity: Quantity,
    },
    #[error("{}", say!("\"{}\" is below zero, which a {} can't be. {}", text, quantity.word(), below_zero(*quantity)))]
    Negative { text: String, quantity: Quantity },
    #[error("{}", say!("\"{}\" is colder than anything can be (-273.15 °C). Read it again.", text))]
    BelowAbsoluteZero { text: String },
    #[error("{}", say!("\"{}\" on a {} means the meter's range is too small. Choose a higher range and read it again.", text, quantity.word()))]
    OpenNotHere { text: String, quantity: Quantity },
}

fn known(quantity: Quantity) -> String {
    let symbols: Vec<&str> = Unit::of(quantity).map(Unit::symbol).collect();
    symbols.join(", ")
}

fn below_zero(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Resistance => {
            term!(
                "A meter shows that when there is voltage on the part or a stored zero: unplug it, clear the zero, read it again."
            )
        }
        _ => term!("Read it again."),
    }
}
