//! Did the probe sit? Asked before a number is believed, since a slipped probe
//! is the commonest false open.
//!
//! The limits here are common practice, no published source.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use crate::input::{Entered, EnteredValue};
use crate::uncertainty::mean;

/// One look at the meter.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Sample {
    /// The meter showed open (`OL`).
    Open,
    /// The meter showed that it is more than it can show (`>40M`).
    Above {
        /// What it can show, in the base unit.
        value: f64,
    },
    /// The meter showed a number.
    Value {
        /// In the base unit of what is measured.
        value: f64,
        /// Worth of the last digit, same unit.
        resolution: f64,
    },
}

impl From<&Entered> for Sample {
    fn from(entered: &Entered) -> Self {
        match entered.value {
            EnteredValue::Number {
                value, resolution, ..
            } => Sample::Value { value, resolution },
            EnteredValue::Above { value } => Sample::Above { value },
            EnteredValue::Open => Sample::Open,
        }
    }
}

/// How good contact was shown with these leads, so that an open can be believed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum ContactShown {
    /// The probes held together read this.
    LeadsShorted {
        /// In ohms.
        ohms: f64,
    },
    /// A like part read this with the same leads, just before or after.
    SiblingRead {
        /// In ohms.
        ohms: f64,
    },
    /// The technician says so, without a number.
    Ticked,
}

/// Leads that read more than this when shorted are broken or dirty.
const GOOD_LEADS_OHMS: f64 = 2.0;

impl ContactShown {
    /// Whether this shows that the leads carry current.
    pub fn is_good(&self) -> bool {
        match *self {
            ContactShown::LeadsShorted { ohms } => (0.0..=GOOD_LEADS_OHMS).contains(&ohms),
            ContactShown::SiblingRead { ohms } => ohms >= 0.0 && ohms.is_finite(),
            ContactShown::Ticked => true,
        }
    }
}

/// What several looks at the meter tell about the contact.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Contact {
    /// Fewer looks than it takes.
    TooFew {
        /// How many are missing.
        missing: u32,
    },
    /// The numbers agree.
    Steady {
        /// Their mean, base unit.
        mean: f64,
        /// Largest less smallest, base unit.
        range: f64,
    },
    /// The numbers go to and fro, or come and go.
    Jumping {
        /// Largest less smallest of the numbers, base unit.
        range: f64,
    },
    /// The numbers go one way and have not come to rest.
    Drifting {
        /// Last less first, base unit.
        change: f64,
    },
    /// Every look showed open.
    Open,
}

/// Looks it takes to tell steady from lucky.
pub const SAMPLES_NEEDED: usize = 3;

/// Steady means within this share of the mean, or within these counts,
/// whichever is more.
const STEADY_SHARE: f64 = 0.02;
const STEADY_COUNTS: f64 = 3.0;

/// Reads the contact out of the samples, in the order they were taken.
pub fn assess(samples: &[Sample]) -> Contact {
    let values: Vec<f64> = samples
        .iter()
        .filter_map(|s| match s {
            Sample::Value { value, .. } => Some(*value),
            Sample::Open | Sample::Above { .. } => None,
        })
        .collect();
    let (smallest, largest) = values
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
            (a.min(*v), b.max(*v))
        });
    let range = if values.is_empty() {
        0.0
    } else {
        largest - smallest
    };
    // A number once and open the next time needs no third look.
    if !values.is_empty() && values.len() < samples.len() {
        return Contact::Jumping { range };
    }
    if samples.len() < SAMPLES_NEEDED {
        return Contact::TooFew {
            missing: (SAMPLES_NEEDED - samples.len()) as u32,
        };
    }
    if values.is_empty() {
        return Contact::Open;
    }
    let mean = mean(&values);
    // Half a count is lost to binary fractions, never a whole one.
    let allowed = (STEADY_SHARE * mean.abs()).max((STEADY_COUNTS + 0.5) * coarsest(samples));
    if range <= allowed {
        Contact::Steady { mean, range }
    } else if one_way(&values) {
        Contact::Drifting {
            change: values
                .last()
                .zip(values.first())
                .map_or(0.0, |(b, a)| b - a),
        }
    } else {
        Contact::Jumping { range }
    }
}

impl Contact {
    /// What to do before the reading counts; `None` when it is steady, or open
    /// with good contact shown.
    pub fn ask(&self, shown: Option<ContactShown>) -> Option<String> {
        match self {
            Contact::Steady { .. } => None,
            Contact::TooFew { missing: 1 } => Some(say!("take-it-once-more-with-the-probe-seated")),
            Contact::TooFew { missing } => Some(say!(
                "take-it-missing-more-times-with-the-probe",
                missing = missing
            )),
            Contact::Jumping { .. } => Some(say!("the-reading-jumps-seat-the-probe-and-take")),
            Contact::Drifting { .. } => Some(say!("the-reading-drifts-seat-the-probe-wait-until")),
            Contact::Open => match shown {
                Some(shown) if shown.is_good() => None,
                Some(_) => Some(say!("the-leads-themselves-read-too-high-when-held")),
                None => Some(say!("it-shows-open-hold-the-probes-together-or")),
            },
        }
    }
}

/// The coarsest last digit among the samples; 0 when none is a number.
pub fn coarsest(samples: &[Sample]) -> f64 {
    samples.iter().fold(0.0, |worst, s| match s {
        Sample::Value { resolution, .. } => resolution.max(worst),
        Sample::Open | Sample::Above { .. } => worst,
    })
}

/// What every look that showed open is above; `None` when one did not tell.
pub fn open_above(samples: &[Sample]) -> Option<f64> {
    samples
        .iter()
        .map(|s| match s {
            Sample::Above { value } => Some(*value),
            Sample::Open | Sample::Value { .. } => None,
        })
        .try_fold(f64::INFINITY, |least, value| Some(value?.min(least)))
        .filter(|least| least.is_finite())
}

fn one_way(values: &[f64]) -> bool {
    let steps = || {
        values
            .windows(2)
            .filter_map(|w| Some(w.last()? - w.first()?))
    };
    steps().all(|s| s > 0.0) || steps().all(|s| s < 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(texts: &[&str]) -> Vec<Sample> {
        texts
            .iter()
            .map(|t| {
                Sample::from(&crate::input::parse(t, crate::unit::Quantity::Resistance).unwrap())
            })
            .collect()
    }

    fn kind(contact: Contact) -> &'static str {
        match contact {
            Contact::TooFew { .. } => "too few",
            Contact::Steady { .. } => "steady",
            Contact::Jumping { .. } => "jumping",
            Contact::Drifting { .. } => "drifting",
            Contact::Open => "open",
        }
    }

    /// Common practice, no published source.
    #[test]
    fn what_the_samples_say() {
        let check = |texts: &[&str], expect| {
            assert_eq!(kind(assess(&read(texts))), expect, "{texts:?}");
        };
        check(&[], "too few");
        check(&["12.4"], "too few");
        check(&["12.4", "12.4"], "too few");
        check(&["12.4", "12.4", "12.5"], "steady");
        check(&["12.4", "12.7", "12.4"], "steady"); // three counts
        check(&["5.2", "5.3", "5.5"], "steady"); // three counts, one way
        check(&["12.4", "18.9", "13.0"], "jumping");
        check(&["12.4", "13.4", "14.9"], "drifting");
        check(&["14.9", "13.4", "12.4"], "drifting");
        check(&["350", "352", "356"], "steady"); // 2 %
        check(&["OL", "12.4", "12.4"], "jumping");
        check(&["12.4", "OL"], "jumping");
        check(&["OL", "OL"], "too few");
        check(&["OL", "OL", "OL"], "open");
        check(&["0.0", "0.0", "0.0"], "steady");
    }

    #[test]
    fn only_steady_or_a_proven_open_needs_no_asking() {
        let open = assess(&read(&["OL", "OL", "OL"]));
        assert!(
            open.ask(None).unwrap().contains("Seat the probe")
                || open.ask(None).unwrap().contains("seat the probe")
        );
        assert_eq!(
            open.ask(Some(ContactShown::LeadsShorted { ohms: 0.3 })),
            None
        );
        assert_eq!(
            open.ask(Some(ContactShown::SiblingRead { ohms: 12.4 })),
            None
        );
        assert!(
            open.ask(Some(ContactShown::LeadsShorted { ohms: 35.0 }))
                .is_some()
        );
        assert!(
            open.ask(Some(ContactShown::LeadsShorted { ohms: f64::NAN }))
                .is_some()
        );
        let jumping = assess(&read(&["12.4", "OL", "12.4"]));
        // Good leads do not excuse a probe that comes and goes.
        assert!(
            jumping
                .ask(Some(ContactShown::LeadsShorted { ohms: 0.3 }))
                .is_some()
        );
    }

    proptest! {
        #[test]
        fn one_open_among_numbers_is_never_believed(
            values in prop::collection::vec(1.0f64..100.0, 1..8), at in 0usize..8,
        ) {
            let mut samples: Vec<Sample> = values
                .iter()
                .map(|v| Sample::Value { value: *v, resolution: 0.1 })
                .collect();
            samples.insert(at.min(samples.len()), Sample::Open);
            let contact = assess(&samples);
            prop_assert_eq!(kind(contact), "jumping");
            let leads = ContactShown::LeadsShorted { ohms: 0.2 };
            prop_assert!(contact.ask(Some(leads)).is_some());
        }

        #[test]
        fn equal_numbers_are_steady(value in 0.0f64..1e6, n in 3usize..9) {
            let samples = vec![Sample::Value { value, resolution: 0.1 }; n];
            prop_assert_eq!(kind(assess(&samples)), "steady");
        }
    }
}
