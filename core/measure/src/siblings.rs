//! Parts of one number beside each other.
//!
//! Modified z-score of Iglewicz and Hoaglin (1993, ASQC vol. 16):
//! `M = 0.6745 (x - median) / MAD`, flagged beyond 3.5. The median and the median
//! absolute deviation are not pulled by the part that is off, as a mean would be.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::uncertainty::{mean, median};

/// Φ⁻¹(0.75): makes the MAD of a normal sample a standard deviation.
const TO_SIGMA: f64 = 0.674_489_8;
/// Beyond this a part stands out (Iglewicz and Hoaglin).
const FLAG: f64 = 3.5;
/// Mean absolute deviation of a normal sample, √(2/π), for the fall-back when
/// more than half of the parts read the same and the MAD is nil.
const MEAN_TO_SIGMA: f64 = 0.797_884_56;
/// From so many parts on, the rule may flag one.
pub const ENOUGH: usize = 5;
/// Below so many, nothing can be said.
pub const LEAST: usize = 3;

/// One part among its siblings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct Member {
    /// Its reading, at the same temperature as the others', base unit.
    pub value: f64,
    /// Modified z-score; `None` when all read the same or there are too few.
    pub modified_z: Option<f64>,
    /// It differs from its like by more than their scatter and the meter explain.
    pub stands_out: bool,
}

/// A group of like parts, in the order given.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Siblings {
    /// Middle value; `None` for an empty group.
    pub median: Option<f64>,
    /// Median absolute deviation; `None` for an empty group.
    pub mad: Option<f64>,
    /// Each with how far it is from the middle.
    pub members: Vec<Member>,
    /// How much the comparison is worth, in words.
    pub words: String,
}

/// Compares like parts. `u` is the standard uncertainty of one reading: a part
/// within twice that of the median (times √2, both being readings) is never
/// flagged, since one count of the meter is no fault.
pub fn compare(values: &[f64], u: f64) -> Siblings {
    let values: Vec<f64> = values.iter().copied().filter(|v| v.is_finite()).collect();
    if values.is_empty() {
        return Siblings {
            median: None,
            mad: None,
            members: Vec::new(),
            words: say!("no-readings-to-compare"),
        };
    }
    let middle = median(&values);
    let away: Vec<f64> = values.iter().map(|v| (v - middle).abs()).collect();
    let mad = median(&away);
    let sigma = if mad > 0.0 {
        mad / TO_SIGMA
    } else {
        mean(&away) / MEAN_TO_SIGMA
    };
    let enough = values.len() >= ENOUGH;
    let members: Vec<Member> = values
        .iter()
        .map(|value| {
            let z = (values.len() >= LEAST && sigma > 0.0).then(|| (value - middle) / sigma);
            Member {
                value: *value,
                modified_z: z,
                stands_out: enough
                    && z.is_some_and(|z| z.abs() > FLAG)
                    && (value - middle).abs() > 2.0 * std::f64::consts::SQRT_2 * u,
            }
        })
        .collect();
    Siblings {
        median: Some(middle),
        mad: Some(mad),
        words: words(&members),
        members,
    }
}

fn words(members: &[Member]) -> String {
    let out = members.iter().filter(|m| m.stands_out).count();
    match (members.len(), out) {
        (n, _) if n < LEAST => {
            say!("n-of-a-kind-too-few-to-compare", n = n)
        }
        (n, _) if n < ENOUGH => say!("n-of-a-kind-too-few-to-say", n = n),
        (n, 0) => say!("n-of-a-kind-read-alike", n = n),
        (n, 1) => say!("one-of-n-of-a-kind-stands-out", n = n),
        (n, out) => say!("out-of-n-of-a-kind-stand-out", out = out, n = n),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Iglewicz and Hoaglin's rule worked with Python (statistics); the first set is theirs,
    /// rule and all ten values from memory.
    #[test]
    fn modified_z_scores() {
        let check = |values: &[f64], at: usize, mid: f64, mad: f64, z: f64, out: bool| {
            let got = compare(values, 0.0);
            assert!((got.median.unwrap() - mid).abs() < 1e-9);
            assert!((got.mad.unwrap() - mad).abs() < 1e-9);
            // The book rounds the factor to 0.6745, hence the relative margin.
            let member = got.members[at];
            assert!(
                (member.modified_z.unwrap() - z).abs() < 2e-5 * z.abs(),
                "{member:?}"
            );
            assert_eq!(member.stands_out, out);
        };
        let book = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
        check(&book, 8, 2.45, 0.15, 25.8558, true);
        check(&book, 9, 2.45, 0.15, 26.3055, true);
        check(&book, 0, 2.45, 0.15, -1.5738, false);
        check(&[5.1, 5.2, 5.2, 5.3, 7.9], 4, 5.2, 0.1, 18.2115, true);
    }

    #[test]
    fn few_or_equal_parts_flag_nothing() {
        for (values, says) in [
            (&[][..], "No readings"),
            (&[5.2][..], "too few to compare"),
            (&[5.2, 9.0][..], "too few to compare"),
            (&[5.2, 5.2, 9.0][..], "too few to say"),
            (&[5.2, 5.2, 5.3, 9.0][..], "too few to say"),
            (&[5.2, 5.2, 5.2, 5.2, 5.2][..], "read alike"),
        ] {
            let got = compare(values, 0.03);
            assert!(got.words.contains(says), "{values:?}: {}", got.words);
            assert!(got.members.iter().all(|m| !m.stands_out));
        }
    }

    #[test]
    fn one_count_is_no_fault() {
        // MAD nil, fall-back z is 3.99, yet 0.1 ohm is the meter's last digit.
        let got = compare(&[5.2, 5.2, 5.2, 5.2, 5.3], 0.1);
        assert!(got.members[4].modified_z.unwrap() > 3.5);
        assert!(!got.members[4].stands_out);
        // The same group with one at 9 ohm: that is a fault.
        assert!(compare(&[5.2, 5.2, 5.2, 5.2, 9.0], 0.1).members[4].stands_out);
    }

    proptest! {
        #[test]
        fn order_and_unit_do_not_matter(mut values in prop::collection::vec(1.0f64..100.0, 5..12)) {
            let count = |s: &Siblings| s.members.iter().filter(|m| m.stands_out).count();
            let before = compare(&values, 0.01);
            let scaled: Vec<f64> = values.iter().map(|v| v * 4.0).collect();
            prop_assert_eq!(count(&before), count(&compare(&scaled, 0.04)));
            values.reverse();
            prop_assert_eq!(count(&before), count(&compare(&values, 0.01)));
        }
    }
}
