//! Why a typed value was not taken.

use crate::unit::{Quantity, Unit};
use swarfbook_words::{say, term};

/// Why a typed value was not taken; the text can be shown as it is.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum InputError {
    #[error("{}", say!("nothing-was-entered-enter-the-word", word = quantity.word()))]
    Empty { quantity: Quantity },
    #[error("{}", say!("that-is-too-long-to-be-a-word", word = quantity.word()))]
    TooLong { quantity: Quantity },
    #[error("{}", say!("text-is-not-a-word-enter-a-number", text = text, word = quantity.word(), unit = quantity.base().symbol()))]
    NotANumber { text: String, quantity: Quantity },
    #[error("{}", say!("text-is-not-a-number-enter-digits-with", text = text))]
    NotBare { text: String },
    #[error("{}", say!("text-can-be-small-or-large-enter-it", text = text, small = small, large = large, small_2 = small, large_2 = large))]
    Ambiguous {
        text: String,
        small: String,
        large: String,
    },
    #[error("{}", say!("text-a-small-m-is-milli-a-big", text = text))]
    MilliOrMega { text: String },
    #[error("{}", say!("text-is-in-unit-which-is-a-word", text = text, unit = unit.symbol(), word = unit.quantity().word(), word_2 = quantity.word()))]
    WrongUnit {
        text: String,
        unit: Unit,
        quantity: Quantity,
    },
    #[error("{}", say!("text-the-unit-unit-is-not-known-for", text = text, unit = unit, word = quantity.word(), known = known(*quantity)))]
    UnknownUnit {
        text: String,
        unit: String,
        quantity: Quantity,
    },
    #[error("{}", say!("text-is-below-zero-which-a-word-cant", text = text, word = quantity.word(), below_zero = below_zero(*quantity)))]
    Negative { text: String, quantity: Quantity },
    #[error("{}", say!("text-is-colder-than-anything-can-be-273", text = text))]
    BelowAbsoluteZero { text: String },
    #[error("{}", say!("text-on-a-word-means-the-meters-range", text = text, word = quantity.word()))]
    OpenNotHere { text: String, quantity: Quantity },
}

fn known(quantity: Quantity) -> String {
    let symbols: Vec<&str> = Unit::of(quantity).map(Unit::symbol).collect();
    symbols.join(", ")
}

fn below_zero(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Resistance => {
            term!("a-meter-shows-that-when-there-is-voltage")
        }
        _ => term!("read-it-again"),
    }
}
