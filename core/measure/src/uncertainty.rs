//! A value and how sure it is (GUM, JCGM 100:2008).

use serde::{Deserialize, Serialize};
use swarfbook_job::unit::COVERAGE;
use ts_rs::TS;

/// A value with its standard uncertainty, both in the same unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Estimate {
    /// The best value.
    pub value: f64,
    /// Standard uncertainty (k = 1), zero or more.
    pub u: f64,
}

impl Estimate {
    /// The expanded uncertainty, by [`COVERAGE`].
    pub fn expanded(&self) -> f64 {
        COVERAGE * self.u
    }
}

/// Standard uncertainty of a rectangular distribution by its half width (GUM 4.3.7).
pub fn rectangular(half_width: f64) -> f64 {
    half_width / 3f64.sqrt()
}

/// Independent parts added in quadrature (GUM 5.1.2).
pub fn quadrature(parts: &[f64]) -> f64 {
    parts.iter().map(|p| p * p).sum::<f64>().sqrt()
}

/// Standard deviation of one sample by n - 1 (GUM 4.2.2); 0 for fewer than two.
pub fn sample_deviation(values: &[f64]) -> f64 {
    if values.len() < 2 {
        return 0.0;
    }
    let mean = mean(values);
    let squares: f64 = values.iter().map(|v| (v - mean).powi(2)).sum();
    (squares / (values.len() - 1) as f64).sqrt()
}

/// Arithmetic mean; 0 for none.
pub fn mean(values: &[f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    values.iter().sum::<f64>() / values.len() as f64
}

/// Middle value (mean of the middle two for an even count); 0 for none.
pub fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = sorted.len() / 2;
    match (sorted.len() % 2, sorted.get(middle)) {
        (_, None) => 0.0,
        (1, Some(value)) => *value,
        (_, Some(value)) => (value + sorted.get(middle.wrapping_sub(1)).unwrap_or(value)) / 2.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GUM H.1 (end gauge), the standard's own worked example: the
    /// parts 25, 9.7, 2.9 and 16.6 nm combine to 32 nm (from memory).
    #[test]
    fn parts_combine_as_in_gum_h1() {
        let u = quadrature(&[25.0, 9.7, 2.9, 16.6]);
        assert!((u - 32.0).abs() < 0.5, "{u}");
    }

    /// Python statistics.stdev and statistics.median.
    #[test]
    fn deviation_and_median() {
        assert!((sample_deviation(&[12.4, 12.5, 12.4]) - 0.0577350).abs() < 1e-6);
        assert!(
            (sample_deviation(&[2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0]) - 2.138_089_9).abs()
                < 1e-6
        );
        assert_eq!(sample_deviation(&[3.0]), 0.0);
        assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
        assert_eq!(median(&[4.0, 1.0, 3.0, 2.0]), 2.5);
        assert_eq!(median(&[]), 0.0);
    }
}
