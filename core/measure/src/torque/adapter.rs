//! What to set on the wrench when an adapter (crowfoot) makes it longer.
//!
//! `set = wanted L / (L + E cos θ)`: L from the middle of the grip to the square
//! drive, E from the drive to the bolt, θ the adapter's angle from the wrench's
//! line. At 90° nothing changes; turned back, the wrench is set higher.

use swarfbook_job::fact::AdapterUsed;
use swarfbook_words::say;

use crate::unit::NewtonMetres;

/// Why an adapter was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum AdapterError {
    #[error("{}", say!("the-wrench-measures-lever-mm-mm-from-grip", lever_mm = lever_mm))]
    Lever { lever_mm: f64 },
    #[error("{}", say!("the-adapter-measures-adapter-mm-mm-from-drive", adapter_mm = adapter_mm))]
    Length { adapter_mm: f64 },
    #[error("{}", say!("an-angle-of-angle-deg-deg-cant-be", angle_deg = angle_deg))]
    Angle { angle_deg: f64 },
}

fn check(adapter: AdapterUsed) -> Result<(), AdapterError> {
    let AdapterUsed {
        lever_mm,
        adapter_mm,
        angle_deg,
    } = adapter;
    if !(50.0..=2000.0).contains(&lever_mm) {
        return Err(AdapterError::Lever { lever_mm });
    }
    if !(0.0..lever_mm).contains(&adapter_mm) {
        return Err(AdapterError::Length { adapter_mm });
    }
    if !(0.0..=180.0).contains(&angle_deg) {
        return Err(AdapterError::Angle { angle_deg });
    }
    Ok(())
}

/// The wrench's share of the torque at the bolt.
fn share(adapter: AdapterUsed) -> f64 {
    let reach = adapter.adapter_mm * adapter.angle_deg.to_radians().cos();
    adapter.lever_mm / (adapter.lever_mm + reach)
}

/// What to set for a wanted torque at the bolt.
///
/// # Errors
/// [`AdapterError`], with what to measure again.
pub fn set_for(adapter: AdapterUsed, wanted: NewtonMetres) -> Result<NewtonMetres, AdapterError> {
    check(adapter)?;
    Ok(NewtonMetres(wanted.get() * share(adapter)))
}

/// What reaches the bolt at a setting.
///
/// # Errors
/// As [`set_for`].
pub fn reaches(adapter: AdapterUsed, set: NewtonMetres) -> Result<NewtonMetres, AdapterError> {
    check(adapter)?;
    Ok(NewtonMetres(set.get() / share(adapter)))
}
