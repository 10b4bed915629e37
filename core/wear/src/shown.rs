//! The score as it is told: whole numbers, the interval rounded outwards.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Nobody knows a gearbox to the last hundredth: the score is told as 99 at the most.
const MOST: f64 = 99.0;

/// A score in whole numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Shown {
    /// 0 to 99.
    pub score: u8,
    /// Lower end of its 90 % interval, rounded down.
    pub lo: u8,
    /// Upper end, rounded up.
    pub hi: u8,
}

impl Shown {
    /// Of a score and its interval, 0 to 100.
    pub fn of(score: f64, lo: f64, hi: f64) -> Shown {
        // A saturating cast is meant: all are held within 0 to 100 before it.
        let whole = |value: f64, most: f64| value.clamp(0.0, most) as u8;
        Shown {
            score: whole(score.round(), MOST),
            lo: whole(lo.floor(), MOST),
            hi: whole(hi.ceil(), 100.0),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_interval_is_rounded_outwards_and_a_hundred_never_stands_alone() {
        let shown = |score, lo, hi| {
            let shown = Shown::of(score, lo, hi);
            (shown.score, shown.lo, shown.hi)
        };
        assert_eq!(shown(45.4, 38.9, 52.1), (45, 38, 53));
        assert_eq!(shown(100.0, 100.0, 100.0), (99, 99, 100));
        assert_eq!(shown(99.8, 99.6, 100.0), (99, 99, 100));
        assert_eq!(shown(0.0, 0.0, 14.8), (0, 0, 15));
    }
}
