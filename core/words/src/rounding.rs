//! Rounding that screens, report and command line share: ends of intervals go outwards,
//! so that an interval never claims more than is known; parts add up to their sum.

/// A last bit that a sum or a conversion left, relative: 0.3 is not below 0.3.
const NOISE: f64 = 1e-9;

/// The lower end of an interval to so many decimals, never above it.
pub fn down(value: f64, places: u32) -> f64 {
    let scale = scale(places);
    let at = value * scale;
    (at + NOISE * at.abs().max(1.0)).floor() / scale
}

/// The upper end of an interval to so many decimals, never below it.
pub fn up(value: f64, places: u32) -> f64 {
    let scale = scale(places);
    let at = value * scale;
    // No "-0".
    (at - NOISE * at.abs().max(1.0)).ceil() / scale + 0.0
}

fn scale(places: u32) -> f64 {
    10_f64.powi(places.min(9) as i32)
}

/// Whole percents of shares that add up to what their sum rounds to: the largest
/// remainders are rounded up. Shares of 0 to 1.
pub fn percents(shares: &[f64]) -> Vec<u32> {
    let exact: Vec<f64> = shares
        .iter()
        .map(|share| 100.0 * share.clamp(0.0, 1.0))
        .collect();
    let mut whole: Vec<u32> = exact.iter().map(|share| share.floor() as u32).collect();
    let sum = exact.iter().sum::<f64>().round() as u32;
    let missing = sum.saturating_sub(whole.iter().sum());
    let mut order: Vec<usize> = (0..exact.len()).collect();
    let rest = |at: usize| exact[at] - exact[at].floor();
    order.sort_by(|a, b| rest(*b).total_cmp(&rest(*a)).then(a.cmp(b)));
    for at in order.into_iter().take(missing as usize) {
        whole[at] += 1;
    }
    whole
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_go_outwards_and_noise_does_not() {
        for (value, places, lo, hi) in [
            (14.49, 0, 14.0, 15.0),
            (15.0, 0, 15.0, 15.0),
            (0.1 + 0.2, 1, 0.3, 0.3),
            (3.4512, 2, 3.45, 3.46),
            (-2.51, 1, -2.6, -2.5),
        ] {
            assert_eq!(down(value, places), lo, "{value}");
            assert_eq!(up(value, places), hi, "{value}");
        }
    }

    #[test]
    fn percents_add_up() {
        assert_eq!(percents(&[1.0 / 3.0; 3]), [34, 33, 33]);
        assert_eq!(percents(&[0.455, 0.455, 0.09]), [46, 45, 9]);
        assert_eq!(percents(&[]), [0; 0]);
        assert_eq!(percents(&[0.006, 0.994]), [1, 99]);
    }
}
