//! Numbers that are the same on every machine and after every round trip.

use serde::{Deserialize, Serialize};

/// A number rounded to at most six significant digits when it is made. RFC 8785
/// writes such a number in one way only, so that a signature over it holds.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(into = "f64", try_from = "f64")]
pub struct Fixed(f64);

/// Infinity, or not a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a report can't hold a number that is infinite or not a number")]
pub struct NotFinite;

impl Fixed {
    /// Rounds to six significant digits.
    ///
    /// # Errors
    /// [`NotFinite`] for infinity and not-a-number.
    pub fn new(value: f64) -> Result<Fixed, NotFinite> {
        if !value.is_finite() {
            return Err(NotFinite);
        }
        let rounded: f64 = format!("{value:.5e}").parse().map_err(|_| NotFinite)?;
        // Adding zero makes minus zero plus zero: they would be written alike.
        Ok(Fixed(rounded + 0.0))
    }

    /// Finite, to six significant figures.
    pub fn get(self) -> f64 {
        self.0
    }
}

impl From<Fixed> for f64 {
    fn from(fixed: Fixed) -> f64 {
        fixed.0
    }
}

impl TryFrom<f64> for Fixed {
    type Error = NotFinite;
    fn try_from(value: f64) -> Result<Self, NotFinite> {
        Fixed::new(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_that_differ_in_the_last_bit_are_written_alike() {
        let (a, b) = (0.1 + 0.2, 0.3);
        assert_ne!(a, b);
        assert_eq!(Fixed::new(a), Fixed::new(b));
        assert_eq!(
            Fixed::new(-0.0).map(|zero| zero.get().is_sign_positive()),
            Ok(true)
        );
        assert_eq!(Fixed::new(f64::NAN), Err(NotFinite));
        assert_eq!(Fixed::new(f64::INFINITY), Err(NotFinite));
    }

    #[test]
    fn a_round_trip_through_json_changes_nothing() {
        for value in [1.0 / 3.0, 12_345.678_9, 1e-9, 6.02e23, -2.5] {
            let fixed = Fixed::new(value).unwrap();
            let text = serde_json::to_string(&fixed).unwrap();
            assert_eq!(serde_json::from_str::<Fixed>(&text).unwrap(), fixed);
        }
    }
}
