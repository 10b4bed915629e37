//! Metric threads and how much a bolt takes.
//!
//! Thread geometry by ISO 724 (pitch and minor diameter), strength by
//! ISO 898-1, tightening by VDI 2230 (90 % of yield under tension and torsion).
//! These are maxima for steel in steel: a bound, never a torque to use.

use std::fmt;
use std::str::FromStr;
use swarfbook_words::say;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use std::f64::consts::PI;

/// A metric thread; as text `M6` or `M8x1`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(try_from = "String", into = "String")]
#[ts(type = "string")]
pub struct Thread {
    /// Nominal diameter, mm.
    diameter_mm: f64,
    /// Pitch, mm.
    pitch_mm: f64,
}

/// Coarse pitches of ISO 261 and heads of ISO 4014/EN 1665 hexagon bolts:
/// diameter, pitch, outer diameter under the head, clearance hole (ISO 273 medium), mm.
const COARSE: [(f64, f64, f64, f64); 9] = [
    (4.0, 0.7, 5.9, 4.5),
    (5.0, 0.8, 6.9, 5.5),
    (6.0, 1.0, 8.9, 6.6),
    (8.0, 1.25, 11.6, 9.0),
    (10.0, 1.5, 14.6, 11.0),
    (12.0, 1.75, 16.6, 13.5),
    (14.0, 2.0, 19.6, 15.5),
    (16.0, 2.0, 22.5, 17.5),
    (18.0, 2.5, 25.3, 20.0),
];

/// Why a text is no thread.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum ThreadError {
    #[error("{}", say!("text-is-no-metric-thread-enter-it-such", text = text))]
    Form { text: String },
    #[error("{}", say!("text-only-m4-to-m18-are-known-here", text = text))]
    Size { text: String },
    #[error("{}", say!("text-the-pitch-cant-belong-to-that-diameter", text = text))]
    Pitch { text: String },
}

impl FromStr for Thread {
    type Err = ThreadError;

    fn from_str(typed: &str) -> Result<Self, ThreadError> {
        let text = typed.trim().to_owned();
        let form = || ThreadError::Form { text: text.clone() };
        let body = text
            .strip_prefix(['M', 'm'])
            .ok_or_else(form)?
            .replace(',', ".");
        let (diameter, pitch) = match body.split_once(['x', 'X', '×']) {
            Some((d, p)) => (d.trim(), Some(p.trim())),
            None => (body.trim(), None),
        };
        let diameter_mm: f64 = diameter.parse().map_err(|_| form())?;
        let (_, coarse, _, _) = COARSE
            .into_iter()
            .find(|row| row.0 == diameter_mm)
            .ok_or_else(|| ThreadError::Size { text: text.clone() })?;
        let pitch_mm = match pitch {
            None => coarse,
            Some(p) => p.parse().map_err(|_| form())?,
        };
        // No finer than a quarter of the coarse pitch, never coarser than it:
        // "M6x25" is a bolt's length, not its pitch.
        if !(0.25 * coarse..=coarse).contains(&pitch_mm) {
            return Err(ThreadError::Pitch { text });
        }
        Ok(Thread {
            diameter_mm,
            pitch_mm,
        })
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "M{}", self.diameter_mm)?;
        let coarse = COARSE.iter().find(|r| r.0 == self.diameter_mm);
        if coarse.is_some_and(|r| r.1 == self.pitch_mm) {
            Ok(())
        } else {
            write!(f, "x{}", self.pitch_mm)
        }
    }
}

impl TryFrom<String> for Thread {
    type Error = ThreadError;

    fn try_from(text: String) -> Result<Self, ThreadError> {
        text.parse()
    }
}

impl From<Thread> for String {
    fn from(thread: Thread) -> String {
        thread.to_string()
    }
}

impl Thread {
    fn pitch_diameter_mm(self) -> f64 {
        self.diameter_mm - 0.649_519 * self.pitch_mm
    }

    fn stress_diameter_mm(self) -> f64 {
        let minor = self.diameter_mm - 1.226_869 * self.pitch_mm;
        0.5 * (self.pitch_diameter_mm() + minor)
    }

    /// Stress area, mm² (ISO 898-1): `π/4 ((d2 + d3)/2)²`.
    pub fn stress_area_mm2(self) -> f64 {
        PI / 4.0 * self.stress_diameter_mm().powi(2)
    }

    /// Mean diameter of the face under the head, mm.
    fn bearing_diameter_mm(self) -> f64 {
        let row = COARSE.iter().find(|r| r.0 == self.diameter_mm);
        row.map_or(1.3 * self.diameter_mm, |(_, _, head, hole)| {
            0.5 * (head + hole)
        })
    }
}

/// Property class of a steel bolt (ISO 898-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the names are the classes
pub enum PropertyClass {
    C8_8,
    C10_9,
    C12_9,
}

impl PropertyClass {
    /// Yield strength Rp0.2, MPa (ISO 898-1, sizes up to 16 mm).
    pub const fn yield_mpa(self) -> f64 {
        match self {
            PropertyClass::C8_8 => 640.0,
            PropertyClass::C10_9 => 940.0,
            PropertyClass::C12_9 => 1100.0,
        }
    }
}

/// Pre-load and torque at 90 % of yield.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Tightness {
    /// Force in the bolt, N.
    pub force_n: f64,
    /// Torque, N·m.
    pub torque_nm: f64,
}

/// What a bolt takes at most, by VDI 2230 with the same friction `mu` in the
/// thread and under the head.
pub fn tightness(thread: Thread, class: PropertyClass, mu: f64) -> Tightness {
    let d2 = thread.pitch_diameter_mm();
    let p = thread.pitch_mm;
    let x = 1.5 * (d2 / thread.stress_diameter_mm()) * (p / (PI * d2) + 1.155 * mu);
    let force_n = thread.stress_area_mm2() * 0.9 * class.yield_mpa() / (1.0 + 3.0 * x * x).sqrt();
    let arm_mm = 0.16 * p + 0.58 * d2 * mu + 0.5 * thread.bearing_diameter_mm() * mu;
    Tightness {
        force_n,
        torque_nm: force_n * arm_mm / 1000.0,
    }
}
