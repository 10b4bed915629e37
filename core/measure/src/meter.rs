//! How far off a meter can be.
//!
//! Meters state `±(a % of reading + n counts)`; a count is the worth of the last
//! digit shown. GUM (JCGM 100:2008) 4.3.7: with nothing more known, every value
//! in the interval is as likely as another, so the standard uncertainty is the
//! half width over the square root of three.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::uncertainty::rectangular;

/// `±(percent of reading + counts)`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Accuracy {
    /// Percent of the reading, 0 to 100.
    pub percent: f64,
    /// Counts of the last digit, 0 to 200.
    pub counts: f64,
}

/// A meter as it was used for a reading.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Meter {
    /// From its data sheet, or from a [`Grade`].
    pub accuracy: Accuracy,
    /// Worth of the last digit on the range used, in the reading's base unit;
    /// `None`: what was typed tells it.
    pub resolution: Option<f64>,
}

/// Generic grades of hand-held meters, for a shop that does not know its
/// meter's data sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Grade {
    /// A cheap pocket meter.
    Pocket,
    /// What a workshop has.
    Workshop,
    /// A good meter, calibrated.
    Fine,
}

impl Grade {
    /// Every grade, roughest first.
    pub const ALL: [Grade; 3] = [Grade::Pocket, Grade::Workshop, Grade::Fine];

    /// Accuracy on resistance. Typical of data sheets of each class; common
    /// practice, no published source. A known meter should be entered instead.
    pub const fn accuracy(self) -> Accuracy {
        match self {
            Grade::Pocket => Accuracy {
                percent: 2.0,
                counts: 5.0,
            },
            Grade::Workshop => Accuracy {
                percent: 0.9,
                counts: 2.0,
            },
            Grade::Fine => Accuracy {
                percent: 0.2,
                counts: 2.0,
            },
        }
    }

    /// The grade as a meter whose resolution is told by what was typed.
    pub const fn meter(self) -> Meter {
        Meter {
            accuracy: self.accuracy(),
            resolution: None,
        }
    }
}

/// A clamp for direct current: what its Hall element drifts is most of it. Typical of data
/// sheets, from memory.
pub const CLAMP: Accuracy = Accuracy {
    percent: 2.0,
    counts: 5.0,
};

/// Why a meter's figures were not taken.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum MeterError {
    /// The percentage is no percentage of a meter.
    #[error("{}", say!("an-accuracy-of-percent-percent-cant-be-right", percent = percent))]
    Percent {
        /// As entered.
        percent: f64,
    },
    /// So many counts that nothing could be read.
    #[error("{}", say!("counts-counts-cant-be-right-enter-the-counts", counts = counts))]
    Counts {
        /// As entered.
        counts: f64,
    },
    /// The last digit is worth nothing, or less.
    #[error("{}", say!("the-meters-last-digit-must-be-worth-more"))]
    Resolution,
}

impl Meter {
    /// Checks entered figures.
    ///
    /// # Errors
    /// [`MeterError`] when a figure can't belong to a meter.
    pub fn check(&self) -> Result<(), MeterError> {
        let Accuracy { percent, counts } = self.accuracy;
        if !(0.0..=20.0).contains(&percent) {
            return Err(MeterError::Percent { percent });
        }
        if !(0.0..=200.0).contains(&counts) {
            return Err(MeterError::Counts { counts });
        }
        match self.resolution {
            Some(r) if !(r > 0.0 && r.is_finite()) => Err(MeterError::Resolution),
            _ => Ok(()),
        }
    }

    /// Worth of a count: the coarser of the meter's and the typed digit, since a
    /// digit that was not written down is not known.
    pub fn count(&self, typed_resolution: f64) -> f64 {
        self.resolution.unwrap_or(0.0).max(typed_resolution)
    }

    /// Half width of the interval around a reading, in the reading's unit.
    pub fn half_width(&self, reading: f64, typed_resolution: f64) -> f64 {
        self.accuracy.percent / 100.0 * reading.abs()
            + self.accuracy.counts * self.count(typed_resolution)
    }

    /// Standard uncertainty of a reading, never below that of its last digit
    /// (GUM F.2.2.1: resolution over twice the square root of three).
    pub fn standard_uncertainty(&self, reading: f64, typed_resolution: f64) -> f64 {
        let stated = rectangular(self.half_width(reading, typed_resolution));
        stated.max(rectangular(self.count(typed_resolution) / 2.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// GUM 4.3.7 worked with Python (numpy), one line each: percent, counts,
    /// last digit, reading, half width, standard uncertainty.
    #[test]
    fn standard_uncertainty_of_a_stated_accuracy() {
        let check = |percent, counts, digit, reading, a: f64, u: f64| {
            let meter = Meter {
                accuracy: Accuracy { percent, counts },
                resolution: Some(digit),
            };
            assert!((meter.half_width(reading, digit) - a).abs() < 5e-7);
            assert!((meter.standard_uncertainty(reading, digit) - u).abs() < 5e-7);
        };
        check(0.9, 2.0, 0.1, 5.6, 0.2504, 0.144569);
        check(0.5, 3.0, 0.01, 5.60, 0.0580, 0.033486);
        check(0.8, 5.0, 0.1, 22.4, 0.6792, 0.392136);
        check(1.0, 2.0, 0.001, 0.250, 0.0045, 0.002598);
        // Resolution alone, GUM F.2.2.1: 0.29 of a step.
        check(0.0, 0.0, 0.1, 5.6, 0.0, 0.028868);
    }

    #[test]
    fn a_digit_not_written_down_is_not_known() {
        let meter = Meter {
            accuracy: Accuracy {
                percent: 0.0,
                counts: 1.0,
            },
            resolution: Some(0.1),
        };
        assert_eq!(meter.half_width(12.0, 1.0), 1.0);
        assert_eq!(meter.half_width(12.0, 0.01), 0.1);
    }

    #[test]
    fn figures_that_belong_to_no_meter_are_asked_back() {
        let meter = |percent, counts, resolution| Meter {
            accuracy: Accuracy { percent, counts },
            resolution,
        };
        for bad in [
            meter(-1.0, 2.0, None),
            meter(90.0, 2.0, None),
            meter(f64::NAN, 2.0, None),
            meter(1.0, 5000.0, None),
            meter(1.0, -1.0, None),
            meter(1.0, 2.0, Some(0.0)),
            meter(1.0, 2.0, Some(f64::INFINITY)),
        ] {
            assert!(bad.check().is_err(), "{bad:?}");
        }
        for grade in Grade::ALL {
            assert!(grade.meter().check().is_ok());
        }
    }

    proptest! {
        #[test]
        fn grows_with_reading_percent_and_counts(
            reading in 0.0f64..1e6, more in 0.0f64..1e6, percent in 0.0f64..5.0, counts in 0.0f64..50.0,
        ) {
            let meter = |percent, counts| Meter { accuracy: Accuracy { percent, counts }, resolution: Some(0.1) };
            let u = meter(percent, counts).standard_uncertainty(reading, 0.1);
            prop_assert!(u > 0.0);
            prop_assert!(meter(percent, counts).standard_uncertainty(reading + more, 0.1) >= u);
            prop_assert!(meter(percent + 0.1, counts).standard_uncertainty(reading, 0.1) >= u);
            prop_assert!(meter(percent, counts + 1.0).standard_uncertainty(reading, 0.1) >= u);
        }
    }
}
