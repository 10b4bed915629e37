//! Rates of visits that scatter more than counts of one rate do.

use serde::{Deserialize, Serialize};
use statrs::function::erf::erfc;
use ts_rs::TS;

use super::{TwoCounts, bisect};

/// Visits of one car scatter by half of their mean even where nothing changes: how the residue
/// was wiped, how long the car stood, how much oil stayed in. Common practice, no published
/// source; the number is the project's own judgement.
pub const SCATTER: f64 = 0.5;

/// The comparison of two rates of visits that scatter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Scattered {
    /// Probability of so great a first rate, or greater, were nothing changed.
    pub p_greater: f64,
    /// Probability of so small a first rate, or smaller, were nothing changed.
    pub p_less: f64,
    /// Lower end of the ratio's interval.
    pub ratio_lo: f64,
    /// Upper end; `None` when it has none.
    pub ratio_hi: Option<f64>,
}

/// Widens an exact comparison of `x1` pieces over one exposure with `x2` over those of `earlier`
/// visits by the scatter of visits: the rate behind a
/// visit is drawn from a gamma distribution of the given coefficient of variation, so the
/// variance of its logarithm is the trigamma function of one over its square, and that of a
/// mean of earlier visits is less by how their exposures share it. On the scale of
/// logarithms variances add (delta method for the counts). What the exact test does not call
/// is never called here.
pub fn scattered(
    exact: &TwoCounts,
    (x1, exposure): (u32, f64),
    (x2, earlier): (u32, &[f64]),
    level: f64,
) -> Scattered {
    let all: f64 = earlier.iter().sum();
    let shares: f64 = earlier.iter().map(|e| (e / all).powi(2)).sum();
    let of_visits = trigamma(SCATTER.powi(-2)) * (1.0 + shares);
    // Half a piece stands for none.
    let of_count = |x: u32| 1.0 / f64::from(x).max(0.5);
    let ratio = f64::from(x1).max(0.5) / f64::from(x2).max(0.5) * all / exposure;
    let z = ratio.ln() / (of_visits + of_count(x1) + of_count(x2)).sqrt();
    let width = quantile(1.0 - (1.0 - level) / 2.0) * of_visits.sqrt();
    let out = |end: f64| ((ratio.ln() - end.ln()).powi(2) + width * width).sqrt();
    Scattered {
        p_greater: exact.p_greater.max(above(z)),
        p_less: exact.p_less.max(above(-z)),
        ratio_lo: if exact.ratio_lo > 0.0 {
            (ratio.ln() - out(exact.ratio_lo)).exp().min(exact.ratio_lo)
        } else {
            0.0
        },
        ratio_hi: exact
            .ratio_hi
            .map(|hi| (ratio.ln() + out(hi)).exp().max(hi)),
    }
}

/// P(Z > z) of a standard normal.
fn above(z: f64) -> f64 {
    erfc(z / std::f64::consts::SQRT_2) / 2.0
}

fn quantile(p: f64) -> f64 {
    bisect(-10.0, 10.0, p, |z| 1.0 - above(z))
}

/// The derivative of digamma, by its recurrence and asymptotic series (Abramowitz and Stegun
/// 6.4.6 and 6.4.12).
fn trigamma(x: f64) -> f64 {
    let mut x = x;
    let mut sum = 0.0;
    while x < 10.0 {
        sum += 1.0 / (x * x);
        x += 1.0;
    }
    let y = 1.0 / (x * x);
    sum + 1.0 / x + y / 2.0 + y / x * (1.0 / 6.0 - y * (1.0 / 30.0 - y / 42.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// pi²/6 and pi²/2 (Abramowitz and Stegun 6.4.3 and 6.4.4), and 4: pi²/6 - 1 - 1/4 - 1/9.
    #[test]
    fn trigamma_agrees_with_the_handbook() {
        let pi2 = std::f64::consts::PI.powi(2);
        assert!((trigamma(1.0) - pi2 / 6.0).abs() < 1e-8);
        assert!((trigamma(0.5) - pi2 / 2.0).abs() < 1e-8);
        assert!((trigamma(4.0) - (pi2 / 6.0 - 1.0 - 0.25 - 1.0 / 9.0)).abs() < 1e-8);
    }

    /// Quantiles of every table of the normal distribution.
    #[test]
    fn the_normal_tail_is_that_of_the_tables() {
        assert!((above(1.959_964) - 0.025).abs() < 1e-7);
        assert!((quantile(0.95) - 1.644_854).abs() < 1e-5);
    }
}
