//! The interval of a share: so many of so many.

/// The normal quantile of a two-sided 90 % interval, the level of every interval that is told.
pub const Z_90: f64 = 1.644_853_626_951_472_2;

/// Wilson's two-sided score interval of a share (Journal of the American Statistical Association 22:209, 1927) for
/// `hits` of `n`, 0 to 1, at the normal quantile `z`; all from 0 to 1 is possible where nothing was counted. It takes the
/// single cases for independent.
pub fn wilson(hits: u32, n: u32, z: f64) -> (f64, f64) {
    if n == 0 {
        return (0.0, 1.0);
    }
    let (n, share) = (f64::from(n), f64::from(hits.min(n)) / f64::from(n));
    let z2 = z * z;
    let middle = share + z2 / (2.0 * n);
    let side = z * (share * (1.0 - share) / n + z2 / (4.0 * n * n)).sqrt();
    let whole = 1.0 + z2 / n;
    (
        ((middle - side) / whole).max(0.0),
        ((middle + side) / whole).min(1.0),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// R. G. Newcombe, Statistics in Medicine 17:857 (1998), table I, method 3, 95 %: from memory. `tests/outside` holds
    /// the same function against SciPy.
    #[test]
    fn against_the_table_of_newcombe() {
        for (hits, n, lo, hi) in [
            (81, 263, 0.2553, 0.3662),
            (15, 148, 0.0624, 0.1605),
            (0, 20, 0.0000, 0.1611),
            (1, 29, 0.0061, 0.1718),
        ] {
            let seen = wilson(hits, n, 1.959_964);
            assert!((seen.0 - lo).abs() < 6e-5, "{hits} of {n}: {seen:?}");
            assert!((seen.1 - hi).abs() < 6e-5, "{hits} of {n}: {seen:?}");
        }
    }

    #[test]
    fn all_none_and_nothing() {
        assert_eq!(wilson(0, 0, Z_90), (0.0, 1.0));
        let (lo, hi) = wilson(10, 10, Z_90);
        assert!(lo > 0.7 && hi == 1.0, "{lo} {hi}");
        let (lo, hi) = wilson(0, 10, Z_90);
        assert!(lo == 0.0 && hi < 0.3, "{lo} {hi}");
    }
}
