//! What the maker asks for.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::unit::{Quantity, Unit, show_number};

/// Limits as entered from the maker's data, in the quantity's base unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Spec {
    /// What is measured.
    pub quantity: Quantity,
    /// Lowest allowed.
    pub low: Option<f64>,
    /// Highest allowed.
    pub high: Option<f64>,
    /// Temperature the limits hold at, °C. `None`: none is given. A copper winding's are
    /// then assumed to hold near 20 °C, a temperature sensor's can't be used, and any
    /// other part's hold at whatever temperature it is read.
    pub at_temp_c: Option<f64>,
    /// Where it was read: manual, page, issue.
    pub source: String,
}

/// Why a spec was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum SpecError {
    #[error("{}", say!("the-spec-has-no-limit-enter-the-lowest"))]
    NoLimit,
    #[error("{}", say!("the-limits-are-swapped-low-is-above-high", low = show_number(*low), high = show_number(*high)))]
    Swapped { low: f64, high: f64 },
    #[error("{}", say!("a-limit-of-limit-unit-cant-be-look", limit = show_number(*limit), unit = unit.symbol()))]
    Impossible { limit: f64, unit: Unit },
    #[error("{}", say!("the-specs-temperature-of-celsius-deg-c-cant", celsius = show_number(*celsius)))]
    Temperature { celsius: f64 },
    #[error("{}", say!("say-where-the-spec-was-read-manual-page"))]
    NoSource,
}

impl Spec {
    /// Checks that the spec can be one.
    ///
    /// # Errors
    /// [`SpecError`], with what to look at again.
    pub fn check(&self) -> Result<(), SpecError> {
        if self.low.is_none() && self.high.is_none() {
            return Err(SpecError::NoLimit);
        }
        for limit in [self.low, self.high].into_iter().flatten() {
            let negative = limit < 0.0 && !self.quantity.may_be_negative();
            if !limit.is_finite() || negative {
                return Err(SpecError::Impossible {
                    limit,
                    unit: self.quantity.base(),
                });
            }
        }
        if let (Some(low), Some(high)) = (self.low, self.high)
            && high < low
        {
            return Err(SpecError::Swapped { low, high });
        }
        match self.at_temp_c {
            Some(celsius) if !(-60.0..=200.0).contains(&celsius) => {
                return Err(SpecError::Temperature { celsius });
            }
            _ => {}
        }
        if self.source.trim().is_empty() {
            return Err(SpecError::NoSource);
        }
        Ok(())
    }
}
