//! Temperature sensors whose resistance falls as they warm (NTC).
//!
//! A maker gives either a table of limits at a few temperatures or one
//! resistance with a B value: `R(T) = R0 exp(B (1/T - 1/T0))`, T in kelvin.
//! Between the rows of a table the same law is used with the B of the two
//! neighbours; outside the table nothing is said.

use swarfbook_job::fact::{SensorData, SensorRow};
use swarfbook_words::say;

use crate::conformity::Limits;

const KELVIN: f64 = 273.15;

/// Why a sensor's data were not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum NtcError {
    #[error("{}", say!("a-table-needs-at-least-two-rows-enter"))]
    TooShort,
    #[error("{}", say!("at-celsius-deg-c-the-limits-are-swapped", celsius = celsius, low_ohms = low_ohms, high_ohms = high_ohms))]
    Swapped {
        celsius: f64,
        low_ohms: f64,
        high_ohms: f64,
    },
    #[error("{}", say!("at-celsius-deg-c-a-limit-is-not", celsius = celsius))]
    NotPositive { celsius: f64 },
    #[error("{}", say!("the-table-goes-from-before-c-deg-c", before_c = before_c, celsius = celsius))]
    NotRising { before_c: f64, celsius: f64 },
    #[error("{}", say!("from-before-c-deg-c-to-celsius-deg", before_c = before_c, celsius = celsius))]
    NotFalling { before_c: f64, celsius: f64 },
    #[error("{}", say!("b-must-be-between-1000-and-10000-k"))]
    BadB,
    #[error("{}", say!("celsius-deg-c-is-outside-the-makers-table", celsius = celsius, from_c = from_c, to_c = to_c))]
    OutsideTable {
        celsius: f64,
        from_c: f64,
        to_c: f64,
    },
    #[error("{}", say!("celsius-deg-c-cant-be-a-sensors-temperature", celsius = celsius))]
    Impossible { celsius: f64 },
}

/// Sensor data that hold together.
#[derive(Debug, Clone, PartialEq)]
pub struct Ntc(SensorData);

impl Ntc {
    /// Takes a maker's data.
    ///
    /// # Errors
    /// [`NtcError`] when limits are swapped, a table does not fall, or B is no B.
    pub fn new(data: SensorData) -> Result<Self, NtcError> {
        match &data {
            SensorData::Table { rows } => check_rows(rows)?,
            SensorData::BValue {
                ohms,
                reference_c,
                b_kelvin,
                tolerance_percent,
            } => {
                let fits = *ohms > 0.0
                    && ohms.is_finite()
                    && (1000.0..=10000.0).contains(b_kelvin)
                    && (0.0..=50.0).contains(tolerance_percent);
                if !fits {
                    return Err(NtcError::BadB);
                }
                possible(*reference_c)?;
            }
        }
        Ok(Ntc(data))
    }

    /// Limits at a temperature, in ohms.
    ///
    /// # Errors
    /// [`NtcError::OutsideTable`]: a table is not stretched.
    pub fn limits_at(&self, celsius: f64) -> Result<Limits, NtcError> {
        possible(celsius)?;
        let (low, high) = match &self.0 {
            SensorData::Table { rows } => {
                let (a, b) = neighbours(rows, celsius)?;
                let at = |ra, rb| {
                    law(
                        ra,
                        a.celsius,
                        b_value(ra, a.celsius, rb, b.celsius),
                        celsius,
                    )
                };
                (at(a.low_ohms, b.low_ohms), at(a.high_ohms, b.high_ohms))
            }
            SensorData::BValue {
                ohms,
                reference_c,
                b_kelvin,
                tolerance_percent,
            } => {
                let middle = law(*ohms, *reference_c, *b_kelvin, celsius);
                let part = middle * tolerance_percent / 100.0;
                (middle - part, middle + part)
            }
        };
        Ok(Limits {
            low: Some(low),
            high: Some(high),
        })
    }

    /// B in kelvin at a temperature.
    ///
    /// # Errors
    /// As [`Ntc::limits_at`].
    pub fn b_at(&self, celsius: f64) -> Result<f64, NtcError> {
        match &self.0 {
            SensorData::BValue { b_kelvin, .. } => Ok(*b_kelvin),
            SensorData::Table { rows } => {
                let (a, b) = neighbours(rows, celsius)?;
                Ok(b_value(middle(a), a.celsius, middle(b), b.celsius))
            }
        }
    }

    /// Ohms by which the resistance at `celsius` is in doubt when the
    /// temperature is by `u_c` kelvin: `R B / T² u`.
    ///
    /// # Errors
    /// As [`Ntc::limits_at`].
    pub fn doubt_ohms(&self, ohms: f64, celsius: f64, u_c: f64) -> Result<f64, NtcError> {
        Ok(ohms * self.b_at(celsius)? / (celsius + KELVIN).powi(2) * u_c)
    }
}

fn middle(row: &SensorRow) -> f64 {
    0.5 * (row.low_ohms + row.high_ohms)
}

/// B from two points, in kelvin.
pub fn b_value(r1: f64, t1_c: f64, r2: f64, t2_c: f64) -> f64 {
    (r1 / r2).ln() / (1.0 / (t1_c + KELVIN) - 1.0 / (t2_c + KELVIN))
}

fn law(r0: f64, t0_c: f64, b: f64, celsius: f64) -> f64 {
    r0 * (b * (1.0 / (celsius + KELVIN) - 1.0 / (t0_c + KELVIN))).exp()
}

fn possible(celsius: f64) -> Result<(), NtcError> {
    if (-60.0..=250.0).contains(&celsius) {
        Ok(())
    } else {
        Err(NtcError::Impossible { celsius })
    }
}

fn check_rows(rows: &[SensorRow]) -> Result<(), NtcError> {
    if rows.len() < 2 {
        return Err(NtcError::TooShort);
    }
    for row in rows {
        possible(row.celsius)?;
        if !(row.low_ohms > 0.0 && row.high_ohms.is_finite()) {
            return Err(NtcError::NotPositive {
                celsius: row.celsius,
            });
        }
        if row.high_ohms < row.low_ohms {
            return Err(NtcError::Swapped {
                celsius: row.celsius,
                low_ohms: row.low_ohms,
                high_ohms: row.high_ohms,
            });
        }
    }
    for (a, b) in rows.iter().zip(rows.iter().skip(1)) {
        let (before_c, celsius) = (a.celsius, b.celsius);
        if celsius <= before_c {
            return Err(NtcError::NotRising { before_c, celsius });
        }
        if b.low_ohms >= a.low_ohms || b.high_ohms >= a.high_ohms {
            return Err(NtcError::NotFalling { before_c, celsius });
        }
    }
    Ok(())
}

fn neighbours(rows: &[SensorRow], celsius: f64) -> Result<(&SensorRow, &SensorRow), NtcError> {
    rows.iter()
        .zip(rows.iter().skip(1))
        .find(|(a, b)| a.celsius <= celsius && celsius <= b.celsius)
        .ok_or(NtcError::OutsideTable {
            celsius,
            from_c: rows.first().map_or(f64::NAN, |r| r.celsius),
            to_c: rows.last().map_or(f64::NAN, |r| r.celsius),
        })
}

#[cfg(test)]
mod tests;
