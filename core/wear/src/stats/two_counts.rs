//! Two Poisson rates compared by the exact conditional test.

use serde::{Deserialize, Serialize};
use statrs::function::beta::checked_beta_reg;
use statrs::function::gamma::ln_gamma;
use ts_rs::TS;

use super::bisect;

/// Two counts over two exposures.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct TwoCounts {
    /// Probability of so great a first count, or greater, were the rates equal.
    pub p_greater: f64,
    /// Probability of so small a first count, or smaller, were the rates equal.
    pub p_less: f64,
    /// Two-sided: all outcomes no likelier than this one.
    pub p_two_sided: f64,
    /// First rate over second; `None` when the second count is 0.
    pub ratio: Option<f64>,
    /// Lower end of the ratio's interval.
    pub ratio_lo: f64,
    /// Upper end; `None` when it has none.
    pub ratio_hi: Option<f64>,
}

/// Compares `x1` over exposure `t1` with `x2` over `t2` (Przyborowski and
/// Wilenski 1940): given the sum, `x1` is binomial. The ratio's interval of the
/// given level is Clopper and Pearson's. `None` when nothing was counted at all
/// or an exposure is not above 0.
pub fn compare_counts(x1: u32, t1: f64, x2: u32, t2: f64, level: f64) -> Option<TwoCounts> {
    let n = x1.checked_add(x2)?;
    if n == 0 || !(t1 > 0.0 && t2 > 0.0 && t1.is_finite() && t2.is_finite()) {
        return None;
    }
    let share = t1 / (t1 + t2);
    let tail = (1.0 - level) / 2.0;
    let (n_f, x1_f) = (f64::from(n), f64::from(x1));
    let to_ratio = |p: f64| p / (1.0 - p) * t2 / t1;
    let ratio_lo = if x1 == 0 {
        0.0
    } else {
        to_ratio(beta_quantile(x1_f, n_f - x1_f + 1.0, tail))
    };
    let ratio_hi = (x2 > 0).then(|| to_ratio(beta_quantile(x1_f + 1.0, n_f - x1_f, 1.0 - tail)));
    Some(TwoCounts {
        p_greater: at_least(x1, n, share),
        p_less: at_most(x1, n, share),
        p_two_sided: no_likelier(x1, n, share),
        ratio: (x2 > 0).then(|| (x1_f / t1) / (f64::from(x2) / t2)),
        ratio_lo,
        ratio_hi,
    })
}

/// P(X >= x) of a binomial.
fn at_least(x: u32, n: u32, p: f64) -> f64 {
    if x == 0 {
        return 1.0;
    }
    beta_below(f64::from(x), f64::from(n - x) + 1.0, p)
}

/// P(X <= x) of a binomial.
fn at_most(x: u32, n: u32, p: f64) -> f64 {
    if x == n {
        return 1.0;
    }
    beta_below(f64::from(n - x), f64::from(x) + 1.0, 1.0 - p)
}

fn no_likelier(x: u32, n: u32, p: f64) -> f64 {
    // The slack of R's and scipy's binomial tests, against rounding.
    let limit = probability(x, n, p) * (1.0 + 1e-7);
    (0..=n)
        .map(|i| probability(i, n, p))
        .filter(|each| *each <= limit)
        .sum::<f64>()
        .min(1.0)
}

fn probability(x: u32, n: u32, p: f64) -> f64 {
    let (x, n) = (f64::from(x), f64::from(n));
    let choose = ln_gamma(n + 1.0) - ln_gamma(x + 1.0) - ln_gamma(n - x + 1.0);
    (choose + x * p.ln() + (n - x) * (1.0 - p).ln()).exp()
}

fn beta_quantile(a: f64, b: f64, p: f64) -> f64 {
    bisect(0.0, 1.0, p, |x| beta_below(a, b, x))
}

fn beta_below(a: f64, b: f64, x: f64) -> f64 {
    checked_beta_reg(a, b, x).unwrap_or(f64::NAN)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// scipy 1.17 `binomtest` and statsmodels 0.15 `test_poisson_2indep(method='exact-cond')`.
    #[test]
    fn agrees_with_scipy_and_statsmodels() {
        let inf = f64::INFINITY;
        let rows = [
            (10, 1.0, 3, 1.0, 0.092285, 0.046143, 0.8583, 18.8487),
            (12, 2.0, 4, 1.0, 0.601692, 0.339123, 0.4546, 6.3812),
            (60, 51477.5, 30, 54308.7, 0.000675, 0.000428, 1.3397, 3.3884),
            (5, 1.0, 0, 1.0, 0.062500, 0.031250, 0.9164, inf),
            (20, 1.0, 10, 1.0, 0.098737, 0.049369, 0.8935, 4.7846),
            (15, 1.0, 5, 2.0, 0.000167, 0.000167, 2.0729, 21.1023),
        ];
        for (x1, t1, x2, t2, two, greater, lo, hi) in rows {
            let ours = compare_counts(x1, t1, x2, t2, 0.95).unwrap();
            assert!((ours.p_two_sided - two).abs() < 6e-7, "{ours:?}");
            assert!((ours.p_greater - greater).abs() < 6e-7, "{ours:?}");
            assert!((ours.ratio_lo - lo).abs() < 6e-5, "{ours:?}");
            let ours_hi = ours.ratio_hi.unwrap_or(inf);
            assert!(ours_hi == hi || (ours_hi - hi).abs() < 6e-5, "{ours:?}");
        }
    }

    #[test]
    fn less_mirrors_greater() {
        let there = compare_counts(3, 2.0, 9, 5.0, 0.9).unwrap();
        let back = compare_counts(9, 5.0, 3, 2.0, 0.9).unwrap();
        assert!((there.p_less - back.p_greater).abs() < 1e-12);
        assert!((there.ratio_lo - 1.0 / back.ratio_hi.unwrap()).abs() < 1e-9);
    }

    #[test]
    fn nothing_counted_is_no_comparison() {
        assert_eq!(compare_counts(0, 1.0, 0, 1.0, 0.9), None);
        assert_eq!(compare_counts(1, 0.0, 2, 1.0, 0.9), None);
    }
}
