//! The normal distribution.

/// Probability of a value at or below `z` standard deviations.
pub fn cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// The `z` below which a share `p` lies, by bisection on [`cdf`]; clamped to
/// ±8, beyond which no reading of ours can tell a difference.
pub fn quantile(p: f64) -> f64 {
    let (mut low, mut high) = (-8.0, 8.0);
    for _ in 0..80 {
        let middle = 0.5 * (low + high);
        if cdf(middle) < p {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
