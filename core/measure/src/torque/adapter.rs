//! What to set on the wrench when an adapter (crowfoot) makes it longer.
//!
//! `set = wanted L / (L + E cos θ)`: L from the middle of the grip to the square
//! drive, E from the drive to the bolt, θ the adapter's angle from the wrench's
//! line. At 90° nothing changes; turned back, the wrench is set higher.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::unit::NewtonMetres;

/// A wrench with an adapter on it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Adapter {
    /// Middle of the grip to the middle of the drive, mm.
    pub lever_mm: f64,
    /// Middle of the drive to the middle of the bolt, mm.
    pub adapter_mm: f64,
    /// 0 straight on, 90 square, 180 folded back; degrees.
    pub angle_deg: f64,
}

/// Why an adapter was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum AdapterError {
    #[error("{}", say!("The wrench measures {} mm from grip to drive: that can't be. Measure from the middle of the grip to the middle of the drive.", lever_mm))]
    Lever { lever_mm: f64 },
    #[error("{}", say!("The adapter measures {} mm from drive to bolt: that can't be. It must be zero or more, and shorter than the wrench.", adapter_mm))]
    Length { adapter_mm: f64 },
    #[error("{}", say!("An angle of {}° can't be. Enter 0 for straight on, 90 for square, 180 for folded back.", angle_deg))]
    Angle { angle_deg: f64 },
}

impl Adapter {
    /// Checks the measures.
    ///
    /// # Errors
    /// [`AdapterError`], with what to measure again.
    pub fn check(&self) -> Result<(), AdapterError> {
        if !(50.0..=2000.0).contains(&self.lever_mm) {
            return Err(AdapterError::Lever {
                lever_mm: self.lever_mm,
            });
        }
        if !(0.0..self.lever_mm).contains(&self.adapter_mm) {
            return Err(AdapterError::Length {
                adapter_mm: self.adapter_mm,
            });
        }
        if !(0.0..=180.0).contains(&self.angle_deg) {
            return Err(AdapterError::Angle {
                angle_deg: self.angle_deg,
            });
        }
        Ok(())
    }

    /// The wrench's share of the torque at the bolt.
    fn share(&self) -> f64 {
        let reach = self.adapter_mm * self.angle_deg.to_radians().cos();
        self.lever_mm / (self.lever_mm + reach)
    }

    /// What to set for a wanted torque at the bolt.
    ///
    /// # Errors
    /// As [`Adapter::check`].
    pub fn set_for(&self, wanted: NewtonMetres) -> Result<NewtonMetres, AdapterError> {
        self.check()?;
        Ok(NewtonMetres(wanted.get() * self.share()))
    }

    /// What reaches the bolt at a setting.
    ///
    /// # Errors
    /// As [`Adapter::check`].
    pub fn reaches(&self, set: NewtonMetres) -> Result<NewtonMetres, AdapterError> {
        self.check()?;
        Ok(NewtonMetres(set.get() / self.share()))
    }
}
