//! The fluid balance and the level, in words.

use swarfbook_job::fact::Measured;
use swarfbook_job::fold::{JobState, Mark};
use swarfbook_measure::fluid::{
    Density, Dipstick, Level, LevelError, LevelWindow, Look, Plug, Poured, Seen, balance,
    doubt_fluid, doubt_window, next_step,
};
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
        .last_measure(OUT_C)
        .map_or(DRAINED_C, |c| (c, TRAY_HALF_WIDTH_C));
    let out = poured(state, OUT_L, out_c);
    let filled = poured(state, IN_L, SHOP_C);
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

fn poured(state: &JobState, topic: &str, (celsius, celsius_half_width): (f64, f64)) -> Vec<Poured> {
    state
        .measured
        .iter()
        .filter(|m| m.topic == topic)
        .map(|m| Poured {
            litres: m.value,
            litres_half_width: JUG_HALF_WIDTH_L,
            celsius,
            celsius_half_width,
        })
        .collect()
}

/// The topic of what the open level plug or the dipstick shows.
pub(crate) const LEVEL_SEEN: &str = "level_seen";
/// Topics of the maker's window and the fluid's temperature.
const LEVEL_LOW_C: &str = "level_low_c";
const LEVEL_HIGH_C: &str = "level_high_c";
const LEVEL_C: &str = "level_c";
const OUT_C: &str = "fluid_out_c";
const OUT_L: &str = "fluid_out_l";
const IN_L: &str = "fluid_in_l";
/// What is closed after the level was read, as the procedure names it.
pub(crate) const PLUGS: &str = "level and fill plugs";
/// The step in which the engine is started and the gears are cycled.
const GEARS: &str = "gears";

/// The level counts as set: inside the maker's window, the gears cycled, a thin trickle
/// or a dipstick between its marks.
pub(crate) fn level_set(state: &JobState) -> bool {
    level(state, Units::default()).is_some_and(|level| level.is_ok_and(|level| level.set))
}

/// What the open level plug or the dipstick says, and what to do next.
pub(crate) fn level_words(state: &JobState, units: Units) -> Option<String> {
    Some(match level(state, units)? {
        Ok(level) => level.words,
        Err(why) => why.to_string(),
    })
}

fn level(state: &JobState, units: Units) -> Option<Result<Level, LevelError>> {
    let window = LevelWindow {
        low_c: state.last_measure(LEVEL_LOW_C)?,
        high_c: state.last_measure(LEVEL_HIGH_C)?,
    };
    // Only what was ticked was done; a step that was left out was not.
    let cycled = state
        .steps
        .get(GEARS)
        .is_some_and(|step| step.mark == Mark::Ticked);
    let look = Look {
        celsius: state.last_measure(LEVEL_C)?,
        // The step in which the gears are cycled begins with the engine on.
        engine_running: cycled,
        gears_cycled: cycled,
        seen: match state.answer(LEVEL_SEEN).map(|o| o.choice.as_str()) {
            Some("nothing") => Seen::Plug(Plug::Nothing),
            Some("trickle") => Seen::Plug(Plug::Trickle),
            Some("stream") => Seen::Plug(Plug::Stream),
            Some("dipstick_below") => Seen::Dipstick(Dipstick::Below),
            Some("dipstick_between") => Seen::Dipstick(Dipstick::Between),
            Some("dipstick_above") => Seen::Dipstick(Dipstick::Above),
            _ => Seen::Plug(Plug::Closed),
        },
    };
    Some(next_step(look, window, units))
}

/// The unit has a dipstick, and no level plug to be closed.
pub(crate) fn has_dipstick(state: &JobState) -> bool {
    state
        .answer(LEVEL_SEEN)
        .is_some_and(|seen| seen.choice.starts_with("dipstick"))
}

/// A question before a number about the fluid is believed.
pub(crate) fn doubt(state: &JobState, measured: &Measured, units: Units) -> Option<String> {
    let value = measured.value;
    match measured.topic.as_str() {
        LEVEL_LOW_C => doubt_window(Some(value), state.last_measure(LEVEL_HIGH_C), units),
        LEVEL_HIGH_C => doubt_window(state.last_measure(LEVEL_LOW_C), Some(value), units),
        LEVEL_C | OUT_C => doubt_fluid(value, units),
        OUT_L | IN_L => doubt_measure(measured, units),
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
