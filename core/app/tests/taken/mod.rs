//! A reading of a part, as tests write it.

use swarfbook_job::fact::{MeterUsed, Reading, ReadingKind};

/// Contact shown, by a meter of ± (0.2 % + 2 counts).
pub fn taken(quantity: ReadingKind, samples: &[&str]) -> Reading {
    Reading {
        quantity,
        samples: samples.iter().map(|s| (*s).to_owned()).collect(),
        leads: None,
        part_c: None,
        meter: MeterUsed {
            name: "Fine meter".into(),
            percent: 0.2,
            counts: 2.0,
        },
        contact_shown: true,
        part_within_k: None,
        part_from: None,
        test_volts: None,
        sibling: None,
        range_top: None,
        guard: None,
        applied: None,
        display: None,
    }
}
