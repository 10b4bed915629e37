//! The level through the open plug, at the maker's temperature.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};
use ts_rs::TS;

use super::volume::{FluidError, check_temperature};
use crate::unit::{Quantity, Units};

/// The maker's temperature window for the level, °C; entered with its source.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct LevelWindow {
    /// Coldest.
    pub low_c: f64,
    /// Hottest.
    pub high_c: f64,
}

/// What comes out of the open level plug.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Plug {
    /// Not opened yet.
    Closed,
    /// Nothing.
    Nothing,
    /// A thin steady trickle.
    Trickle,
    /// A stream.
    Stream,
}

/// One look at the level.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Look {
    /// Fluid temperature from the scan data, °C.
    pub celsius: f64,
    /// The engine runs.
    pub engine_running: bool,
    /// Every gear was held for a moment, and the lever is back in park.
    pub gears_cycled: bool,
    /// What the plug shows.
    pub plug: Plug,
}

/// What to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// Start the engine.
    StartEngine,
    /// Go through the gears.
    CycleGears,
    /// Too cold: let it warm.
    WaitWarmer,
    /// Too hot: let it cool.
    WaitCooler,
    /// Open the plug.
    OpenPlug,
    /// Add fluid.
    Add,
    /// Let it run down to a trickle.
    LetRun,
    /// The level is right: close.
    Close,
}

/// The next step in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Level {
    /// What to do.
    pub action: Action,
    /// The same in a sentence.
    pub words: String,
    /// The level counts as set.
    pub set: bool,
}

/// Why no next step can be given.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum LevelError {
    #[error(transparent)]
    Fluid(#[from] FluidError),
    #[error("{}", say!("The window's ends are swapped: {} °C is above {} °C. Look at the maker's data again.", low_c, high_c))]
    Swapped { low_c: f64, high_c: f64 },
}

/// What to do next, told in `units`. Common practice, no published source; the window is the maker's.
///
/// # Errors
/// [`LevelError`] for a swapped window or a temperature that can't be.
pub fn next_step(look: Look, window: LevelWindow, units: Units) -> Result<Level, LevelError> {
    let LevelWindow { low_c, high_c } = window;
    check_temperature(low_c)?;
    check_temperature(high_c)?;
    if low_c > high_c {
        return Err(LevelError::Swapped { low_c, high_c });
    }
    check_temperature(look.celsius)?;
    let (action, words) = decide(look, window, units);
    Ok(Level {
        action,
        words,
        set: action == Action::Close,
    })
}

fn decide(
    look: Look,
    LevelWindow { low_c, high_c }: LevelWindow,
    units: Units,
) -> (Action, String) {
    let show = |celsius: f64| units.show(celsius, Quantity::Temperature);
    let here = show(look.celsius);
    if !look.engine_running {
        return (
            Action::StartEngine,
            say!(
                "Brake held, all clear, exhaust drawn off: start the engine. The level is read with it running."
            ),
        );
    }
    if !look.gears_cycled {
        return (
            Action::CycleGears,
            say!(
                "Go through every gear with a pause in each, then back to park, so that all passages are full."
            ),
        );
    }
    if look.celsius < low_c {
        let early = match look.plug {
            // Cold fluid takes less room: what streams cold is too much for sure.
            Plug::Stream => {
                term!(" It streams already, so it is too full: it will have to run down.")
            }
            _ => "",
        };
        return (
            Action::WaitWarmer,
            say!(
                "{} is too cold: plug closed, wait for {}.{}",
                here,
                show(low_c),
                early
            ),
        );
    }
    if look.celsius > high_c {
        let late = match look.plug {
            // Hot fluid takes more room: what does not reach the plug hot is too little.
            Plug::Nothing => {
                term!(" Nothing comes even hot, so it is low: fluid will have to be added.")
            }
            _ => "",
        };
        return (
            Action::WaitCooler,
            say!(
                "{} is too hot: plug closed, let it cool to {}.{}",
                here,
                show(high_c),
                late
            ),
        );
    }
    match look.plug {
        Plug::Closed => (
            Action::OpenPlug,
            say!(
                "{} is within the window: open the level plug. Hot fluid: gloves, eyes, wrist out of the way.",
                here
            ),
        ),
        Plug::Nothing => (
            Action::Add,
            say!(
                "Nothing comes: add fluid until it trickles, before it passes {}.",
                show(high_c)
            ),
        ),
        Plug::Stream => (
            Action::LetRun,
            say!(
                "It streams: let it run down to a thin trickle, and catch and measure what comes."
            ),
        ),
        Plug::Trickle => (
            Action::Close,
            say!(
                "A thin trickle at {}: the level is right. Close the plug with a new washer to the maker's torque.",
                here
            ),
        ),
    }
}
