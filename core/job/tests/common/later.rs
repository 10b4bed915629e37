//! Kinds of lines, and fields of them, that came after the first two fixtures.

use chrono::NaiveDate;
use swarfbook_job::census::{Census, Lens};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;

/// `photo` is the line of one that was counted.
pub fn facts(photo: EntryId) -> Vec<Fact> {
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
    ]
}
