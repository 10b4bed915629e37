//! The fluid balance and the level, in words.

use swarfbook_job::fact::Measured;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::TopicRole;
use swarfbook_judge::level::level;
use swarfbook_measure::fluid::{Density, Poured, balance, doubt_fluid, doubt_window};
use swarfbook_measure::input::pint_or_quart;
use swarfbook_measure::unit::{Quantity, Unit, Units, show_number};
use swarfbook_words::{fixed, say};

/// Half a mark of a measuring jug, litres (common practice, no published source).
const JUG_HALF_WIDTH_L: f64 = 0.05;
/// Fresh fluid has the temperature of the shop, °C, give or take.
const SHOP_C: (f64, f64) = (20.0, 10.0);
/// Drained fluid whose temperature was not taken, °C, give or take.
const DRAINED_C: (f64, f64) = (50.0, 30.0);
/// A thermometer in a drain tray, K either way.
const TRAY_HALF_WIDTH_C: f64 = 5.0;

/// What the numbers say; nothing when there are none.
pub(crate) fn words(state: &JobState, units: Units) -> Vec<String> {
    balance_words(state, units)
        .into_iter()
        .chain(level_words(state, units))
        .collect()
}

/// Out, in, the total and the difference, both at 15 °C; nothing when nothing was poured.
pub(crate) fn balance_words(state: &JobState, units: Units) -> Vec<String> {
    let out_c = state
        .last_measure(TopicRole::FluidOutC)
        .map_or(DRAINED_C, |c| (c, TRAY_HALF_WIDTH_C));
    let out = poured(state, TopicRole::FluidOutL, out_c);
    let filled = poured(state, TopicRole::FluidInL, SHOP_C);
    let unit = units.volume;
    let volume = |litres: f64, places: usize| {
        format!(
            "{} {}",
            fixed(unit.from_base(litres), places),
            unit.symbol()
        )
    };
    let sum = |p: &[Poured]| volume(p.iter().map(|p| p.litres).sum(), 1);
    if out.is_empty() || filled.is_empty() {
        return match (out.is_empty(), filled.is_empty()) {
            (false, true) => vec![say!("{} came out.", sum(&out))],
            (true, false) => vec![say!("{} went in.", sum(&filled))],
            _ => Vec::new(),
        };
    }
    match balance(&out, &filled, Density::default(), units) {
        Ok(balance) => vec![
            say!(
                "In total {} came out and {} went in; at 15 °C that is {} and {}.",
                sum(&out),
                sum(&filled),
                volume(balance.out_15.value, 2),
                volume(balance.in_15.value, 2)
            ),
            balance.words,
        ],
        Err(why) => vec![why.to_string()],
    }
}

fn poured(
    state: &JobState,
    role: TopicRole,
    (celsius, celsius_half_width): (f64, f64),
) -> Vec<Poured> {
    state
        .measured_as(role)
        .map(|m| Poured {
            litres: m.value,
            litres_half_width: JUG_HALF_WIDTH_L,
            celsius,
            celsius_half_width,
        })
        .collect()
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
    let value = measured.value;
    match state.roles.topic(&measured.step, &measured.topic)? {
        TopicRole::LevelLowC => doubt_window(
            Some(value),
            state.last_measure(TopicRole::LevelHighC),
            units,
        ),
        TopicRole::LevelHighC => {
            doubt_window(state.last_measure(TopicRole::LevelLowC), Some(value), units)
        }
        TopicRole::LevelC | TopicRole::FluidOutC => doubt_fluid(value, units),
        TopicRole::FluidOutL | TopicRole::FluidInL => doubt_measure(measured, units),
        _ => None,
    }
}

/// Where litres are poured, a pint or a quart says only half of what it is.
fn doubt_measure(measured: &Measured, units: Units) -> Option<String> {
    if units.volume != Unit::Litre {
        return None;
    }
    // The form's own unit stands behind what was typed.
    let typed = measured.typed.trim();
    let typed = typed.strip_suffix(" l").unwrap_or(typed);
    let [us, imperial] = pint_or_quart(typed)?;
    let number = show_number(us.from_base(measured.value));
    let as_litres =
        |unit: Unit| units.show(unit.to_base(us.from_base(measured.value)), Quantity::Volume);
    Some(say!(
        "{} {} are {}, {} {} are {}. Which is it?",
        number,
        us.symbol(),
        as_litres(us),
        number,
        imperial.symbol(),
        as_litres(imperial)
    ))
}
