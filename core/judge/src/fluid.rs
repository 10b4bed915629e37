//! What came out and what went in, and which numbers about the fluid are asked about first.

use swarfbook_job::fact::Measured;
use swarfbook_job::fold::JobState;
use swarfbook_job::procedure::TopicRole;
use swarfbook_measure::fluid::{
    self, Balance, Density, FluidError, Poured, doubt_fluid, doubt_window,
};
use swarfbook_measure::input::pint_or_quart;
use swarfbook_measure::unit::{Unit, Units};

/// Half a mark of a measuring jug, litres (common practice, no published source).
const JUG_HALF_WIDTH_L: f64 = 0.05;
/// Fresh fluid has the temperature of the shop, °C, give or take.
const SHOP_C: (f64, f64) = (20.0, 10.0);
/// Drained fluid whose temperature was not taken, °C, give or take.
const DRAINED_C: (f64, f64) = (50.0, 30.0);
/// A thermometer in a drain tray, K either way.
const TRAY_HALF_WIDTH_C: f64 = 5.0;

/// What was poured.
#[derive(Debug, Clone, PartialEq)]
pub struct Poureds {
    /// What came out, l; `None` where nothing was noted.
    pub out_l: Option<f64>,
    /// What went in, l.
    pub in_l: Option<f64>,
    /// Both at 15 °C and their difference, where both were noted.
    pub balance: Option<Result<Balance, FluidError>>,
}

/// What came out and went in of a job; its balance is worded in these units.
pub fn balance(state: &JobState, units: Units) -> Poureds {
    let out_c = state
        .last_measure(TopicRole::FluidOutC)
        .map_or(DRAINED_C, |c| (c, TRAY_HALF_WIDTH_C));
    let out = poured(state, TopicRole::FluidOutL, out_c);
    let filled = poured(state, TopicRole::FluidInL, SHOP_C);
    let sum = |poured: &[Poured]| -> Option<f64> {
        (!poured.is_empty()).then(|| poured.iter().map(|p| p.litres).sum())
    };
    let (out_l, in_l) = (sum(&out), sum(&filled));
    Poureds {
        balance: out_l
            .zip(in_l)
            .map(|_| fluid::balance(&out, &filled, Density::default(), units)),
        out_l,
        in_l,
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

/// What is asked before a number about the fluid is believed.
#[derive(Debug, Clone, PartialEq)]
pub enum FluidDoubt {
    /// A temperature or a window that is hardly one of °C: the question.
    Temperature(String),
    /// A pint or a quart, which says only half of what it is.
    Pint {
        /// The number as it was typed.
        typed: f64,
        /// The US unit, and the imperial one.
        either: [Unit; 2],
    },
}

/// Whether a number about the fluid is asked about before it is believed.
pub fn doubt(state: &JobState, measured: &Measured, units: Units) -> Option<FluidDoubt> {
    let value = measured.value;
    let asked = match state.roles.topic(&measured.step, &measured.topic)? {
        TopicRole::LevelLowC => doubt_window(
            Some(value),
            state.last_measure(TopicRole::LevelHighC),
            units,
        ),
        TopicRole::LevelHighC => {
            doubt_window(state.last_measure(TopicRole::LevelLowC), Some(value), units)
        }
        TopicRole::LevelC | TopicRole::FluidOutC => doubt_fluid(value, units),
        TopicRole::FluidOutL | TopicRole::FluidInL => return pint(measured, units),
        _ => None,
    };
    asked.map(FluidDoubt::Temperature)
}

/// Where litres are poured, a pint or a quart says only half of what it is.
fn pint(measured: &Measured, units: Units) -> Option<FluidDoubt> {
    if units.volume != Unit::Litre {
        return None;
    }
    // The form's own unit stands behind what was typed.
    let typed = measured.typed.trim();
    let typed = typed.strip_suffix(" l").unwrap_or(typed);
    let either = pint_or_quart(typed)?;
    Some(FluidDoubt::Pint {
        typed: either[0].from_base(measured.value),
        either,
    })
}
