//! The fluid's level: whether it counts as set.

use swarfbook_job::fold::{JobState, Mark};
use swarfbook_measure::fluid::{
    Dipstick, Level, LevelError, LevelWindow, Look, Plug, Seen, next_step,
};
use swarfbook_measure::unit::Units;

/// The topic of what the open level plug or the dipstick shows.
pub const LEVEL_SEEN: &str = "level_seen";
/// Topics of the maker's window and the fluid's temperature.
pub const LEVEL_LOW_C: &str = "level_low_c";
/// A topic of the procedure.
pub const LEVEL_HIGH_C: &str = "level_high_c";
/// A topic of the procedure.
pub const LEVEL_C: &str = "level_c";
/// A topic of the procedure.
pub const OUT_C: &str = "fluid_out_c";
/// A topic of the procedure.
pub const OUT_L: &str = "fluid_out_l";
/// A topic of the procedure.
pub const IN_L: &str = "fluid_in_l";
/// What is closed after the level was read, as the procedure names it.
pub const PLUGS: &str = "level and fill plugs";
/// The step in which the engine is started and the gears are cycled.
const GEARS: &str = "gears";

/// The level counts as set: inside the maker's window, the gears cycled, a thin trickle
/// or a dipstick between its marks.
pub fn is_set(state: &JobState) -> bool {
    level(state, Units::default()).is_some_and(|level| level.is_ok_and(|level| level.set))
}

/// What the open level plug or the dipstick says, in these units; `None` before all was read.
///
/// # Errors
/// Where the window or a number can't be.
pub fn level(state: &JobState, units: Units) -> Option<Result<Level, LevelError>> {
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
pub fn has_dipstick(state: &JobState) -> bool {
    state
        .answer(LEVEL_SEEN)
        .is_some_and(|seen| seen.choice.starts_with("dipstick"))
}
