//! How likely a measured value is within its limits, and what may be said.
//!
//! JCGM 106:2012, with a normal distribution around the value:
//! `p = Φ((high - y)/u) - Φ((low - y)/u)`. In spec is said when `p` reaches the
//! guard's level, out of spec when `1 - p` does (ISO 14253-1:2017: the
//! uncertainty counts against whoever claims; default 95 %); between them it is
//! too close to call.

pub mod normal;

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};
use ts_rs::TS;

/// What may be said of a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Within its limits, at the guard's level.
    InSpec,
    /// Outside its limits, at the guard's level.
    OutOfSpec,
    /// Neither can be said with this reading.
    TooCloseToCall,
}

impl Verdict {
    /// The words for it.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::InSpec => term!("in-spec"),
            Verdict::OutOfSpec => term!("out-of-spec"),
            Verdict::TooCloseToCall => term!("too-close-to-call"),
        }
    }
}

/// What may be said of a reading with all that may be amiss with it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ReadingVerdict {
    /// In spec.
    InSpec,
    /// Out of spec.
    OutOfSpec,
    /// Too close to call.
    TooCloseToCall,
    /// Take it again: no contact, jumping or drifting.
    TakeAgain,
    /// No spec was entered.
    NoSpec,
}

impl ReadingVerdict {
    /// What it says against the limits; `None` for what is no verdict on them.
    pub fn called(self) -> Option<Verdict> {
        match self {
            ReadingVerdict::InSpec => Some(Verdict::InSpec),
            ReadingVerdict::OutOfSpec => Some(Verdict::OutOfSpec),
            ReadingVerdict::TooCloseToCall => Some(Verdict::TooCloseToCall),
            ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec => None,
        }
    }
}

impl From<Verdict> for ReadingVerdict {
    fn from(verdict: Verdict) -> ReadingVerdict {
        match verdict {
            Verdict::InSpec => ReadingVerdict::InSpec,
            Verdict::OutOfSpec => ReadingVerdict::OutOfSpec,
            Verdict::TooCloseToCall => ReadingVerdict::TooCloseToCall,
        }
    }
}

/// How sure one must be before saying in or out. Chosen by the shop.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Guard {
    /// Probability asked for, 0.5 (no guard band) to 0.9999.
    pub level: f64,
}

impl Default for Guard {
    fn default() -> Self {
        Guard { level: 0.95 }
    }
}

/// The guard's level is no probability that can be asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", say!("a-guard-of-level-cant-be-used-choose", level = level))]
pub struct GuardError {
    /// As entered.
    pub level: f64,
}

impl Guard {
    /// Checks an entered level.
    ///
    /// # Errors
    /// [`GuardError`] outside 0.5 to 0.9999.
    pub fn check(&self) -> Result<(), GuardError> {
        if (0.5..=0.9999).contains(&self.level) {
            Ok(())
        } else {
            Err(GuardError { level: self.level })
        }
    }

    /// Width of the guard band inside each limit, `k u` (JCGM 106 8.3).
    pub fn band(&self, u: f64) -> f64 {
        normal::quantile(self.level) * u
    }
}

/// Limits, either of which may be missing; both inclusive.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Limits {
    /// Lowest allowed.
    pub low: Option<f64>,
    /// Highest allowed.
    pub high: Option<f64>,
}

impl Limits {
    /// Whether a value without uncertainty is within.
    pub fn hold(&self, value: f64) -> bool {
        self.low.is_none_or(|low| value >= low) && self.high.is_none_or(|high| value <= high)
    }

    /// Between which values in spec is said at this uncertainty, by [`verdict`]; `None` when no
    /// value reaches the guard's level. One limit, or two far apart, leave a guard band inside
    /// each (JCGM 106 8.3); between near ones both tails count.
    pub fn accepted(&self, u: f64, guard: Guard) -> Option<Limits> {
        let band = guard.band(u);
        let (Some(low), Some(high)) = (self.low, self.high) else {
            return Some(Limits {
                low: self.low.map(|low| low + band),
                high: self.high.map(|high| high - band),
            });
        };
        let called = |value| verdict(probability(value, u, *self), guard) == Verdict::InSpec;
        // It is likeliest in the middle, and less the further out.
        let mut inside = 0.5 * (low + high);
        if !called(inside) {
            return None;
        }
        let mut outside = low;
        if called(low) {
            inside = low;
        }
        for _ in 0..HALVINGS {
            let between = 0.5 * (inside + outside);
            if called(between) {
                inside = between;
            } else {
                outside = between;
            }
        }
        Some(Limits {
            low: Some(inside),
            high: Some(low + high - inside),
        })
    }
}

/// Halving the limits so often leaves less than a double holds.
const HALVINGS: u32 = 60;

/// Probability that the true value is within the limits (JCGM 106 7.2).
/// `u` zero means the value is exact.
pub fn probability(value: f64, u: f64, limits: Limits) -> f64 {
    if u <= 0.0 {
        return if limits.hold(value) { 1.0 } else { 0.0 };
    }
    // Upper tails are computed as tails: 1 - Φ loses its digits far out.
    let above = limits
        .high
        .map_or(0.0, |high| normal::cdf((value - high) / u));
    let below = limits.low.map_or(0.0, |low| normal::cdf((low - value) / u));
    (1.0 - above - below).clamp(0.0, 1.0)
}

/// What may be said at a probability of conformity.
pub fn verdict(probability: f64, guard: Guard) -> Verdict {
    if probability >= guard.level {
        Verdict::InSpec
    } else if 1.0 - probability >= guard.level {
        Verdict::OutOfSpec
    } else {
        Verdict::TooCloseToCall
    }
}

#[cfg(test)]
mod tests;
