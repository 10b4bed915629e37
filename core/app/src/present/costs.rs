//! Amounts of money in words.

use swarfbook_job::fact::{Cost, CostOf, Money};
use swarfbook_words::{fixed, say, term};

/// Currencies without a smaller unit, and those with three digits of it (ISO 4217, from memory);
/// all others have two.
const WHOLE: [&str; 15] = [
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "XAF",
    "XOF", "XPF",
];
const THREE: [&str; 7] = ["BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"];

/// "386.00 EUR".
pub(crate) fn money_words(money: &Money) -> String {
    let currency = money.currency.as_str();
    let places = match currency {
        _ if WHOLE.contains(&currency) => 0,
        _ if THREE.contains(&currency) => 3,
        _ => 2,
    };
    let whole = 10_f64.powi(i32::try_from(places).unwrap_or(2));
    let amount = f64::from(money.minor) / whole;
    format!("{} {currency}", fixed(amount, places))
}

/// "386.00 EUR, with tax"; `None` where the amount was taken back.
pub(crate) fn amount_words(cost: &Cost) -> Option<String> {
    let amount = money_words(cost.amount.as_ref()?);
    let text = cost.text.trim();
    Some(if text.is_empty() {
        amount
    } else {
        format!("{amount}, {text}")
    })
}

/// The line that gave an amount.
pub(crate) fn words(cost: &Cost) -> String {
    let of = of_words(cost.of);
    match amount_words(cost) {
        Some(amount) => say!("price-of-value-amount", value = of, amount = amount),
        None => say!("price-of-value-none-any-more", value = of),
    }
}

fn of_words(of: CostOf) -> &'static str {
    match of {
        CostOf::Work => term!("the-work-of-this-visit"),
        CostOf::StillOff => term!("putting-back-what-is-still-off"),
        CostOf::Leak => term!("closing-the-leak"),
        CostOf::Level => term!("bringing-the-fluid-to-its-level"),
        CostOf::Milky => term!("finding-how-water-got-in"),
        CostOf::Parts => term!("replacing-what-failed-its-test"),
        CostOf::Fault => term!("finding-the-cause-of-the-fault"),
        CostOf::OpenUp => term!("opening-the-gearbox"),
        CostOf::TestFirst => term!("the-tests-that-come-first"),
        CostOf::Watch => term!("looking-into-the-pan-again"),
        CostOf::CarryOn => term!("the-next-service"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Minor units by ISO 4217 (from memory): two digits for the euro, none for the yen, three
    /// for the Kuwaiti dinar.
    #[test]
    fn an_amount_has_the_digits_of_its_currency() {
        for (minor, currency, said) in [
            (38_600, "EUR", "386.00 EUR"),
            (5, "USD", "0.05 USD"),
            (38_600, "JPY", "38600 JPY"),
            (38_600, "KWD", "38.600 KWD"),
            (u32::MAX, "EUR", "42949672.95 EUR"),
        ] {
            let currency = currency.to_owned();
            assert_eq!(money_words(&Money { minor, currency }), said);
        }
    }
}
