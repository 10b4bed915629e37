//! The fluid's level: whether it counts as set.

use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::{Answer, LevelSeen, StepRole, TopicRole};
use swarfbook_measure::fluid::{
    Dipstick, Level, LevelError, LevelWindow, Look, Plug, Seen, next_step,
};
use swarfbook_measure::unit::Units;

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
        low_c: state.last_measure(TopicRole::LevelLowC)?,
        high_c: state.last_measure(TopicRole::LevelHighC)?,
    };
    let cycled = state.is_ticked(StepRole::Gears);
    let look = Look {
        celsius: state.last_measure(TopicRole::LevelC)?,
        // The step in which the gears are cycled begins with the engine on.
        engine_running: cycled,
        gears_cycled: cycled,
        seen: match seen(state) {
            Some(LevelSeen::Nothing) => Seen::Plug(Plug::Nothing),
            Some(LevelSeen::Trickle) => Seen::Plug(Plug::Trickle),
            Some(LevelSeen::Stream) => Seen::Plug(Plug::Stream),
            Some(LevelSeen::DipstickBelow) => Seen::Dipstick(Dipstick::Below),
            Some(LevelSeen::DipstickBetween) => Seen::Dipstick(Dipstick::Between),
            Some(LevelSeen::DipstickAbove) => Seen::Dipstick(Dipstick::Above),
            None => Seen::Plug(Plug::Closed),
        },
    };
    Some(next_step(look, window, units))
}

/// What the open level plug or the dipstick showed last.
fn seen(state: &JobState) -> Option<LevelSeen> {
    let at = state.answer(TopicRole::LevelSeen)?;
    state.says(at).find_map(|answer| match answer {
        Answer::Level(seen) => Some(seen),
        _ => None,
    })
}

/// The unit has a dipstick, and no level plug to be closed.
pub fn has_dipstick(state: &JobState) -> bool {
    matches!(
        seen(state),
        Some(LevelSeen::DipstickBelow | LevelSeen::DipstickBetween | LevelSeen::DipstickAbove)
    )
}
