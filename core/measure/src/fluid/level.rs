//! The level through the open plug or on the dipstick, at the maker's temperature.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};
use ts_rs::TS;

use super::volume::{FluidError, check_temperature};
use crate::unit::{Quantity, Unit, Units, show_number};

/// The maker's temperature window for the level, °C; entered with its source.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct LevelWindow {
    /// Coldest at which the level may be set, °C.
    pub low_c: f64,
    /// Hottest at which it may be set, °C.
    pub high_c: f64,
}

/// What comes out of the open level plug.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Plug {
    /// Not opened yet.
    Closed,
    /// Nothing comes out.
    Nothing,
    /// A thin steady trickle.
    Trickle,
    /// More than a trickle.
    Stream,
}

/// What the dipstick shows, wiped and put in again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Dipstick {
    /// Below the lower mark for hot fluid.
    Below,
    /// Between the marks for hot fluid.
    Between,
    /// Above the upper mark.
    Above,
}

/// Where the level is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// At the level plug.
    Plug(Plug),
    /// On the dipstick.
    Dipstick(Dipstick),
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
    /// What the plug or the dipstick shows.
    pub seen: Seen,
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
    #[error("{}", say!("the-windows-ends-are-swapped-low-c-deg", low_c = low_c, high_c = high_c))]
    Swapped { low_c: f64, high_c: f64 },
}

/// A maker's window is not wider, nor does it reach further (ours): wider is "any".
const WIDEST_WINDOW_K: f64 = 40.0;
const COLDEST_WINDOW_C: f64 = 10.0;
const HOTTEST_WINDOW_C: f64 = 110.0;
/// Fluid that someone measures or reads a level of is cooler, as a rule (ours).
const HOT_FLUID_C: f64 = 90.0;

/// Whether a window must be asked about before it is believed; either end may be
/// missing still.
pub fn doubt_window(low_c: Option<f64>, high_c: Option<f64>, units: Units) -> Option<String> {
    let show = |celsius: f64| units.show(celsius, Quantity::Temperature);
    let width = low_c.zip(high_c).map(|(low, high)| high - low);
    let wide = width.is_some_and(|width| width > WIDEST_WINDOW_K);
    let far = |end: &f64| !(COLDEST_WINDOW_C..=HOTTEST_WINDOW_C).contains(end);
    match (low_c, high_c) {
        (Some(low), Some(high)) if wide => Some(say!(
            "a-window-of-low-to-high-would-let",
            low = show(low),
            high = show(high)
        )),
        // No window begins where the fluid is too hot to be read; one may end there.
        (low, high) => low
            .filter(|low| *low >= HOT_FLUID_C)
            .and(high.or(low))
            .or_else(|| low.into_iter().chain(high).find(far))
            .map(|end| match as_fahrenheit(end, units) {
                Some(celsius) => say!(
                    "end-is-hotter-than-fluid-whose-level-is",
                    end = show(end),
                    end_2 = show_number(end),
                    celsius = show_number(celsius)
                ),
                None => say!("end-is-far-from-any-temperature-at-which", end = show(end)),
            }),
    }
}

/// What degrees would be if they were Fahrenheit's, °C, rounded; where they are too hot for
/// fluid as they stand and would not be then.
fn as_fahrenheit(celsius: f64, units: Units) -> Option<f64> {
    let meant = Unit::Fahrenheit.to_base(celsius);
    let slip = units.temperature == Unit::Celsius && celsius >= HOT_FLUID_C && meant < HOT_FLUID_C;
    slip.then(|| meant.round())
}

/// Whether a temperature of the fluid must be asked about: degrees Fahrenheit are
/// taken for Celsius most often.
pub fn doubt_fluid(celsius: f64, units: Units) -> Option<String> {
    if celsius < HOT_FLUID_C {
        return None;
    }
    let here = units.show(celsius, Quantity::Temperature);
    if let Some(meant) = as_fahrenheit(celsius, units) {
        return Some(say!(
            "here-is-hotter-than-fluid-that-is-drained",
            here = here,
            celsius = show_number(celsius),
            meant = show_number(meant)
        ));
    }
    Some(say!(
        "here-is-hotter-than-fluid-that-is-drained-or",
        here = here
    ))
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
            say!("brake-held-all-clear-exhaust-drawn-off-start"),
        );
    }
    if !look.gears_cycled {
        return (
            Action::CycleGears,
            say!("go-through-every-gear-with-a-pause-in"),
        );
    }
    if look.celsius < low_c {
        return (
            Action::WaitWarmer,
            match look.seen {
                // Cold fluid takes less room: what streams cold is too much for sure.
                Seen::Plug(plug) => say!(
                    "here-is-too-cold-plug-closed-wait-for",
                    here = here,
                    low_c = show(low_c),
                    value = match plug {
                        Plug::Stream => term!("it-streams-already-so-it-is-too-full"),
                        _ => "",
                    }
                ),
                Seen::Dipstick(stick) => say!(
                    "here-is-too-cold-for-the-hot-marks",
                    here = here,
                    low_c = show(low_c),
                    value = match stick {
                        Dipstick::Above => term!("it-is-above-the-marks-already-so-it"),
                        _ => "",
                    }
                ),
            },
        );
    }
    if look.celsius > high_c {
        return (
            Action::WaitCooler,
            match look.seen {
                // Hot fluid takes more room: what does not reach the plug hot is too little.
                Seen::Plug(plug) => say!(
                    "here-is-too-hot-plug-closed-let-it",
                    here = here,
                    high_c = show(high_c),
                    value = match plug {
                        Plug::Nothing => term!("nothing-comes-even-hot-so-it-is-low"),
                        _ => "",
                    }
                ),
                Seen::Dipstick(stick) => say!(
                    "here-is-too-hot-for-the-marks-let",
                    here = here,
                    high_c = show(high_c),
                    value = match stick {
                        Dipstick::Below => term!("it-is-below-the-marks-even-hot-so"),
                        _ => "",
                    }
                ),
            },
        );
    }
    match look.seen {
        Seen::Plug(plug) => at_the_plug(plug, &here, &show(high_c)),
        Seen::Dipstick(stick) => on_the_dipstick(stick, &here),
    }
}

fn on_the_dipstick(stick: Dipstick, here: &str) -> (Action, String) {
    match stick {
        Dipstick::Below => (Action::Add, say!("below-the-marks-add-a-little-wait-wipe")),
        Dipstick::Above => (
            Action::LetRun,
            say!("above-the-marks-too-full-it-foams-take"),
        ),
        Dipstick::Between => (
            Action::Close,
            say!("between-the-hot-marks-at-here-the-level", here = here),
        ),
    }
}

fn at_the_plug(plug: Plug, here: &str, hottest: &str) -> (Action, String) {
    match plug {
        Plug::Closed => (
            Action::OpenPlug,
            say!("here-is-within-the-window-open-the-level", here = here),
        ),
        Plug::Nothing => (
            Action::Add,
            say!(
                "nothing-comes-add-fluid-until-it-trickles-before",
                hottest = hottest
            ),
        ),
        Plug::Stream => (Action::LetRun, say!("it-streams-let-it-run-down-to-a")),
        Plug::Trickle => (
            Action::Close,
            say!("a-thin-trickle-at-here-the-level-is", here = here),
        ),
    }
}
