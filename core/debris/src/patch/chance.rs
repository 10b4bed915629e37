//! How likely so many pieces fall on one another by chance.

/// Natural logarithm of P(X >= k) for a binomial X of n trials.
pub(crate) fn ln_binomial_tail(n: usize, k: usize, p: f64) -> f64 {
    if k == 0 || p >= 1.0 {
        return 0.0;
    }
    if k > n || p <= 0.0 {
        return f64::NEG_INFINITY;
    }
    let ln_factorial = |n: usize| (2..=n).map(|i| (i as f64).ln()).sum::<f64>();
    let ln_term = |i: usize| {
        ln_factorial(n) - ln_factorial(i) - ln_factorial(n - i)
            + i as f64 * p.ln()
            + (n - i) as f64 * (-p).ln_1p()
    };
    let terms: Vec<f64> = (k..=n).map(ln_term).collect();
    let most = terms.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (most + terms.iter().map(|t| (t - most).exp()).sum::<f64>().ln()).min(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of scipy.stats.binom.sf(k - 1, n, p).
    #[test]
    fn tails_against_scipy() {
        for (n, k, p, tail) in [
            (10, 3, 0.1, 0.070_190_826_4f64),
            (50, 8, 0.05, 0.003_188_343_222_297_589),
            (20, 20, 0.5, 9.536_743_164e-7),
            (5, 0, 0.3, 1.0),
        ] {
            let seen = ln_binomial_tail(n, k, p).exp();
            assert!(
                (seen / tail - 1.0).abs() < 1e-3,
                "{n} {k} {p}: {seen} {tail}"
            );
        }
    }
}
