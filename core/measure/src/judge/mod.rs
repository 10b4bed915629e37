//! A reading against its spec: contact first, leads off, temperature, meter,
//! and only then a verdict.
//!
//! ```
//! use swarfbook_measure::{contact::Sample, judge::*, meter::Grade, unit::Quantity, conformity::*};
//! let look = |value| Sample::Value { value, resolution: 0.1 };
//! let reading = Reading {
//!     quantity: Quantity::Resistance,
//!     samples: vec![look(13.2), look(13.3), look(13.2)],
//!     leads: Leads::Read { ohms: 0.3, resolution: None },
//!     part_temp: Some(PartTemp { celsius: 22.0, half_width_c: None }),
//!     conductor: Conductor::Copper,
//!     meter: Grade::Workshop.meter(),
//!     contact_shown: None,
//! };
//! let spec = Spec {
//!     quantity: Quantity::Resistance,
//!     low: Some(11.0),
//!     high: Some(15.0),
//!     at_temp_c: Some(20.0),
//!     source: "maker's manual".into(),
//! };
//! let judged = judge(&reading, &spec, Guard::default())?;
//! assert_eq!(judged.verdict, Some(Verdict::InSpec));
//! # Ok::<(), JudgeError>(())
//! ```

mod applied;
mod conclude;
mod gather;
mod insulation;
mod sensor;
mod spec;

pub use applied::{VoltsApplied, judge_applied};
pub use insulation::{Insulation, SHORT_BELOW_OHMS, judge_insulation};
pub use sensor::{SensorSpec, judge_sensor};
pub use spec::{Spec, SpecError};

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::conformity::{Guard, GuardError, Limits, Verdict};
use crate::contact::{Contact, ContactShown, Sample};
use crate::meter::{Meter, MeterError};
use crate::resistance::ntc::NtcError;
use crate::uncertainty::rectangular;
use crate::unit::Quantity;

/// How a part's value moves with temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Conductor {
    /// A copper winding: solenoid, coil of a speed sensor. Corrected to the spec's temperature.
    Copper,
    /// A temperature sensor: limits at one temperature say nothing at another, and what is
    /// in doubt of its temperature is in doubt of its ohms.
    Thermistor,
    /// Anything else: never corrected.
    Other,
}

/// What the test leads add to a resistance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Leads {
    /// Not known.
    Unread,
    /// Held together, with the same meter, they read this.
    Read {
        /// In ohms.
        ohms: f64,
        /// Worth of the last digit then, ohm; `None`: that of the reading, so
        /// the same range.
        resolution: Option<f64>,
    },
    /// Nothing against what is measured.
    Negligible,
}

/// The part's temperature when it was read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct PartTemp {
    /// °C.
    pub celsius: f64,
    /// It may be off by so many kelvin either way; `None`: [`ELSEWHERE_HALF_WIDTH_C`].
    pub half_width_c: Option<f64>,
}

/// A contact probe held to the part is within so many kelvin (common practice, no
/// published source).
pub const PROBE_HALF_WIDTH_C: f64 = 1.0;
/// Any other way to know a part's temperature is: the scan data of the fluid, a
/// hand-held infrared thermometer on oily metal, the air around it (common
/// practice, no published source).
pub const ELSEWHERE_HALF_WIDTH_C: f64 = 3.0;

impl PartTemp {
    /// Half width, K.
    pub fn half_width(&self) -> f64 {
        self.half_width_c.unwrap_or(ELSEWHERE_HALF_WIDTH_C)
    }

    /// Standard uncertainty, K (rectangular).
    pub fn u(&self) -> f64 {
        rectangular(self.half_width())
    }
}

/// A reading as it was taken. Numbers in the quantity's base unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Reading {
    /// What was measured.
    pub quantity: Quantity,
    /// Looks at the meter, in order, the probe seated anew between them.
    pub samples: Vec<Sample>,
    /// What the leads read when held together; resistance only.
    pub leads: Leads,
    /// How warm the part was.
    pub part_temp: Option<PartTemp>,
    /// What the part is made of, electrically.
    pub conductor: Conductor,
    /// The meter used.
    pub meter: Meter,
    /// How good contact was shown; needed to believe an open.
    pub contact_shown: Option<ContactShown>,
}

/// What a reading says, and how that was worked out. Numbers in the base unit
/// of the reading's quantity.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Judgement {
    /// `None`: no verdict is possible; `ask` says what to do.
    pub verdict: Option<Verdict>,
    /// What the samples say of the contact.
    pub contact: Contact,
    /// An open that is believed.
    pub open: bool,
    /// A path to ground where there must be none, whatever limits were entered.
    pub short: bool,
    /// Mean of the samples with the leads off, at the part's own temperature.
    pub value: Option<f64>,
    /// The same at the spec's temperature; `None` when nothing was corrected.
    pub corrected_value: Option<f64>,
    /// Standard uncertainty of the number compared (`corrected_value`, else `value`).
    pub u: Option<f64>,
    /// The limits it was compared with.
    pub limits: Limits,
    /// Between which values in spec is said; `None` when no value reaches the guard's level.
    pub accepted: Option<Limits>,
    /// Probability to be within the limits, 0 to 1.
    pub probability: Option<f64>,
    /// Where the number lies, in words, when the meter alone is too coarse for the limits:
    /// not even their middle could be called in spec with it, and a probability would only
    /// tell of the meter.
    pub place: Option<String>,
    /// One or two sentences for the report.
    pub words: String,
    /// How it was worked out, one step a line.
    pub steps: Vec<String>,
    /// What to do next, when something is.
    pub ask: Option<String>,
}

impl Judgement {
    /// The number that was compared with the limits.
    pub fn compared(&self) -> Option<f64> {
        self.corrected_value.or(self.value)
    }
}

/// Why a reading could not be judged at all.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum JudgeError {
    #[error(transparent)]
    Spec(#[from] SpecError),
    #[error(transparent)]
    Meter(#[from] MeterError),
    #[error(transparent)]
    Guard(#[from] GuardError),
    #[error(transparent)]
    Sensor(#[from] NtcError),
    #[error("{}", say!("the-reading-is-a-word-but-the-spec", word = reading.word(), word_2 = spec.word()))]
    OtherQuantity { reading: Quantity, spec: Quantity },
    #[error("{}", say!("celsius-deg-c-cant-be-the-temperature-of-a", celsius = celsius))]
    PartTemperature { celsius: f64 },
    #[error("{}", say!("a-doubt-of-half-width-c-k-in", half_width_c = half_width_c))]
    TemperatureDoubt { half_width_c: f64 },
    #[error("{}", say!("leads-that-read-ohms-ohm-when-held-together", ohms = ohms))]
    Leads { ohms: f64 },
    #[error("{}", say!("a-sample-is-not-a-number-the-meter"))]
    Sample,
}

/// What a reading says where there are no limits to hold it against: contact and
/// number, no verdict.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right.
pub fn read_without_limits(reading: &Reading) -> Result<Judgement, JudgeError> {
    gather::check(reading)?;
    Ok(match gather::gather(reading, NO_LIMITS) {
        gather::Gathered::Stop(judgement) => *judgement,
        gather::Gathered::Open(steps) => Judgement {
            verdict: None,
            probability: None,
            words: say!("open-no-current-can-pass"),
            ..conclude::open(reading, NO_LIMITS, steps)
        },
        gather::Gathered::Value(taken) => conclude::bare(taken, reading.quantity),
    })
}

const NO_LIMITS: Limits = Limits {
    low: None,
    high: None,
};

/// Judges a reading against its spec.
///
/// # Errors
/// [`JudgeError`] when what was entered can't be right; a reading that is only
/// not good enough gives a [`Judgement`] without verdict.
pub fn judge(reading: &Reading, spec: &Spec, guard: Guard) -> Result<Judgement, JudgeError> {
    guard.check()?;
    spec.check()?;
    gather::check(reading)?;
    if reading.quantity != spec.quantity {
        return Err(JudgeError::OtherQuantity {
            reading: reading.quantity,
            spec: spec.quantity,
        });
    }
    let limits = Limits {
        low: spec.low,
        high: spec.high,
    };
    Ok(match gather::gather(reading, limits) {
        gather::Gathered::Stop(judgement) => *judgement,
        gather::Gathered::Open(steps) => conclude::open(reading, limits, steps),
        gather::Gathered::Value(taken) => conclude::value(reading, spec, guard, taken),
    })
}

#[cfg(test)]
mod assumed_tests;
#[cfg(test)]
mod tests;
