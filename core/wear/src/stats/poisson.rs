//! The gamma distribution behind exact intervals of counts.

use statrs::function::gamma::checked_gamma_lr;

use super::bisect;

/// Quantile of the gamma distribution with unit scale; half of a chi-square
/// quantile with `2 shape` degrees of freedom.
pub(crate) fn gamma_quantile(shape: f64, p: f64) -> f64 {
    let below = |x: f64| checked_gamma_lr(shape, x).unwrap_or(1.0);
    let mut hi = shape + 1.0;
    while below(hi) < p && hi < 1e12 {
        hi *= 2.0;
    }
    bisect(0.0, hi, p, below)
}

#[cfg(test)]
mod tests {
    use swarfbook_job::garwood::garwood;

    use super::*;

    /// scipy 1.17 chi2 and statsmodels 0.15 `confint_poisson(n, 1, method='exact-c')`.
    #[test]
    fn garwood_agrees_with_scipy() {
        let level_95 = [
            (0, 0.0, 3.6889),
            (1, 0.0253, 5.5716),
            (2, 0.2422, 7.2247),
            (3, 0.6187, 8.7673),
            (4, 1.0899, 10.2416),
            (5, 1.6235, 11.6683),
            (8, 3.4538, 15.7632),
            (10, 4.7954, 18.3904),
            (20, 12.2165, 30.8884),
            (50, 37.1110, 65.9188),
            (100, 81.3640, 121.6268),
        ];
        let level_90 = [
            (0, 0.0, 2.9957),
            (1, 0.0513, 4.7439),
            (2, 0.3554, 6.2958),
            (3, 0.8177, 7.7537),
            (5, 1.9701, 10.5130),
            (10, 5.4254, 16.9622),
        ];
        for (level, rows) in [(0.95, &level_95[..]), (0.90, &level_90[..])] {
            for (n, lo, hi) in rows {
                let tail = (1.0 - level) / 2.0;
                let shape = f64::from(*n);
                let ours = match n {
                    0 => (0.0, gamma_quantile(1.0, 1.0 - tail)),
                    _ => (
                        gamma_quantile(shape, tail),
                        gamma_quantile(shape + 1.0, 1.0 - tail),
                    ),
                };
                let shared = garwood(*n, level);
                assert!(
                    (ours.0 - shared.0).abs() < 1e-9,
                    "n {n}: {ours:?} {shared:?}"
                );
                assert!(
                    (ours.1 - shared.1).abs() < 1e-9,
                    "n {n}: {ours:?} {shared:?}"
                );
                assert!((ours.0 - lo).abs() < 6e-5, "n {n}: {} and {lo}", ours.0);
                assert!((ours.1 - hi).abs() < 6e-5, "n {n}: {} and {hi}", ours.1);
            }
        }
    }

    /// The rule of three: no event, 95 % one-sided, is -ln 0.05.
    #[test]
    fn no_event_is_the_rule_of_three() {
        assert!((garwood(0, 0.90).1 + 0.05_f64.ln()).abs() < 1e-9);
    }
}
