//! A volume brought to 15 °C, ASTM D1250 / API MPMS 11.1 for lubricating oils
//! in its metric form (table 54D): `α = 0.6278 / ρ15`,
//! `VCF = exp(-α Δ (1 + 0.8 α Δ))`, Δ = t - 15, `V15 = V VCF`.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::uncertainty::{Estimate, quadrature, rectangular};

/// 0.34878 per °F of the standard's group for lubricating oils, times 1.8.
const K1: f64 = 0.6278;
const BASE_C: f64 = 15.0;

/// Density at 15 °C.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Density {
    /// kg/m³.
    pub kg_m3: f64,
    /// May be off by so much either way, kg/m³.
    pub half_width_kg_m3: f64,
}

impl Default for Density {
    /// Transmission fluids are 840 to 870 (from memory; common practice).
    fn default() -> Self {
        Density {
            kg_m3: 855.0,
            half_width_kg_m3: 15.0,
        }
    }
}

/// Why a volume was not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum FluidError {
    #[error("{}", say!("celsius-deg-c-cant-be-the-temperature-of", celsius = celsius))]
    Temperature { celsius: f64 },
    #[error("{}", say!("litres-l-cant-be-a-gearbox-holds-a", litres = litres))]
    Volume { litres: f64 },
    #[error("{}", say!("a-density-of-kg-m3-kg-m-cant", kg_m3 = kg_m3))]
    Density { kg_m3: f64 },
    #[error("{}", say!("a-doubt-of-half-width-cant-be-right", half_width = half_width))]
    Doubt { half_width: f64 },
}

/// The standard's range for lubricating oils starts at about 801; no fluid for
/// a gearbox is above 1000.
fn check_density(density: Density) -> Result<(), FluidError> {
    if !(801.0..=1000.0).contains(&density.kg_m3) {
        return Err(FluidError::Density {
            kg_m3: density.kg_m3,
        });
    }
    check_doubt(density.half_width_kg_m3, 100.0)
}

/// Fluid in a gearbox that someone stands under.
pub(super) fn check_temperature(celsius: f64) -> Result<(), FluidError> {
    if (-40.0..=150.0).contains(&celsius) {
        Ok(())
    } else {
        Err(FluidError::Temperature { celsius })
    }
}

pub(super) fn check_doubt(half_width: f64, most: f64) -> Result<(), FluidError> {
    if (0.0..=most).contains(&half_width) {
        Ok(())
    } else {
        Err(FluidError::Doubt { half_width })
    }
}

fn correction(rho: f64, celsius: f64) -> f64 {
    let alpha = K1 / rho;
    let delta = celsius - BASE_C;
    (-alpha * delta * (1.0 + 0.8 * alpha * delta)).exp()
}

/// What to multiply a volume at `celsius` by to have it at 15 °C.
///
/// # Errors
/// [`FluidError`] outside what the standard covers.
pub fn volume_correction(density: Density, celsius: f64) -> Result<f64, FluidError> {
    check_density(density)?;
    check_temperature(celsius)?;
    Ok(correction(density.kg_m3, celsius))
}

/// A volume with its uncertainty, brought to 15 °C; litres.
///
/// Takes the volume's own standard uncertainty and half widths of temperature
/// and density; the sensitivities by small steps (GUM 5.1.3 note 2).
///
/// # Errors
/// [`FluidError`], with what to read again.
pub fn volume_at_15(
    litres: Estimate,
    celsius: f64,
    celsius_half_width: f64,
    density: Density,
) -> Result<Estimate, FluidError> {
    if !(0.0..=100.0).contains(&litres.value) {
        return Err(FluidError::Volume {
            litres: litres.value,
        });
    }
    check_doubt(litres.u, 100.0)?;
    check_doubt(celsius_half_width, 50.0)?;
    let factor = volume_correction(density, celsius)?;
    let u_t = rectangular(celsius_half_width);
    let u_rho = rectangular(density.half_width_kg_m3);
    let slope = |up: f64, down: f64, u: f64| 0.5 * (up - down) * u;
    let by_t = slope(
        correction(density.kg_m3, celsius + 1.0),
        correction(density.kg_m3, celsius - 1.0),
        u_t,
    );
    let by_rho = slope(
        correction(density.kg_m3 + 1.0, celsius),
        correction(density.kg_m3 - 1.0, celsius),
        u_rho,
    );
    Ok(Estimate {
        value: litres.value * factor,
        u: quadrature(&[
            litres.u * factor,
            litres.value * by_t,
            litres.value * by_rho,
        ]),
    })
}
