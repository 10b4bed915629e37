//! Kinds of lines, and fields of them, that came after the first two fixtures.

use chrono::NaiveDate;
use swarfbook_job::census::{Census, Lens};
use swarfbook_job::fact::*;
use swarfbook_job::id::{EntryId, Sha256Hex};

/// `photo` is the line of one that was counted, `component` that of a part that was read.
pub fn facts(photo: EntryId, component: EntryId) -> Vec<Fact> {
    vec![
        Fact::MeasuredWith {
            tools: Tools {
                meters: [(
                    "Workshop meter".to_owned(),
                    ToolMark {
                        serial: "INV-0042".into(),
                        calibrated: NaiveDate::from_ymd_opt(2026, 2, 11),
                    },
                )]
                .into(),
                wrench: ToolMark {
                    serial: "INV-0043".into(),
                    calibrated: None,
                },
                clamp: ToolMark::default(),
                card: Some(CardChecked {
                    line_mm: 150.2,
                    day: NaiveDate::from_ymd_opt(2026, 2, 12),
                }),
            },
        },
        Fact::CostGiven {
            cost: Cost {
                of: CostOf::Fault,
                amount: Some(Money {
                    minor: 18_000,
                    currency: "EUR".into(),
                }),
                text: "with tax".into(),
            },
        },
        Fact::CensusMade {
            photo,
            census: Census {
                lens: Some(Lens {
                    focal_mm: Some(4.2),
                    focal_35mm: Some(26.0),
                }),
                ..super::census()
            },
        },
        Fact::PhotoTaken {
            step: "resistance".into(),
            photo: Sha256Hex::of(b"display"),
            subject: PhotoSubject::Display,
        },
        Fact::ReadingTaken {
            component,
            reading: Reading {
                quantity: ReadingKind::Resistance,
                samples: vec!["25.5".into(); 3],
                leads: None,
                part_c: None,
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
                contact_shown: false,
                part_within_k: None,
                part_from: None,
                test_volts: None,
                sibling: None,
                range_top: None,
                guard: None,
                applied: None,
                display: Some(photo),
            },
        },
        Fact::MeasuredWith {
            tools: Tools {
                clamp: ToolMark {
                    serial: "INV-0044".into(),
                    calibrated: NaiveDate::from_ymd_opt(2026, 2, 13),
                },
                ..Tools::default()
            },
        },
    ]
}
