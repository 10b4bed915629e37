//! The fluid balance and the level, in words.

use swarfbook_job::fact::Measured;
use swarfbook_job::fold::JobState;
use swarfbook_judge::fluid::{self, FluidDoubt, Poureds};
use swarfbook_judge::level::level;
use swarfbook_measure::unit::{Quantity, Unit, Units, show_number};
use swarfbook_words::{fixed, say};

/// What the numbers say; nothing when there are none.
pub(crate) fn words(state: &JobState, units: Units) -> Vec<String> {
    balance_words(state, units)
        .into_iter()
        .chain(level_words(state, units))
        .collect()
}

/// Out, in, the total and the difference, both at 15 °C; nothing when nothing was poured.
pub(crate) fn balance_words(state: &JobState, units: Units) -> Vec<String> {
    let unit = units.volume;
    let volume = |litres: f64, places: usize| {
        format!(
            "{} {}",
            fixed(unit.from_base(litres), places),
            unit.symbol()
        )
    };
    let sum = |litres| volume(litres, 1);
    let Poureds {
        out_l,
        in_l,
        balance,
    } = fluid::balance(state, units);
    match (out_l, in_l, balance) {
        (Some(out), Some(filled), Some(Ok(balance))) => vec![
            say!(
                "in-total-out-came-out-and-filled-went",
                out = sum(out),
                filled = sum(filled),
                out_15 = volume(balance.out_15.value, 2),
                in_15 = volume(balance.in_15.value, 2)
            ),
            balance.words,
        ],
        (_, _, Some(Err(why))) => vec![why.to_string()],
        (Some(out), ..) => vec![say!("out-came-out", out = sum(out))],
        (None, Some(filled), _) => vec![say!("filled-went-in", filled = sum(filled))],
        (None, None, _) => Vec::new(),
    }
}

/// What the open level plug or the dipstick says, and what to do next.
pub(crate) fn level_words(state: &JobState, units: Units) -> Option<String> {
    Some(match level(state, units)? {
        Ok(level) => level.words,
        Err(why) => why.to_string(),
    })
}

/// A question before a number about the fluid is believed.
pub(crate) fn doubt(state: &JobState, measured: &Measured, units: Units) -> Option<String> {
    match fluid::doubt(state, measured, units)? {
        FluidDoubt::Temperature(question) => Some(question),
        FluidDoubt::Pint { typed, either } => {
            let number = show_number(typed);
            let as_litres = |unit: Unit| units.show(unit.to_base(typed), Quantity::Volume);
            let [us, imperial] = either;
            Some(say!(
                "number-unit-are-as-litres-number-2-unit",
                number = number,
                unit = us.symbol(),
                as_litres = as_litres(us),
                number_2 = number,
                unit_2 = imperial.symbol(),
                as_litres_2 = as_litres(imperial)
            ))
        }
    }
}
