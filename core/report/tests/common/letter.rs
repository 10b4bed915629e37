//! What the first two pages of the invented report say, and what an expert asks.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{
    CloseUp, Cost, CountRow, Evidence, InstrumentSaid, Letter, Made, Row, Said, SizeMm, number,
};
use swarfbook_report::words::Words;
use swarfbook_words::id;

use super::{fixed, line, said};

pub fn letter(made: &Made, beside: &[Said]) -> Letter {
    let row = |what: &str, value: &str, from: &[u16], limit: &str, meaning: &str| Row {
        what: what.into(),
        value: said(value, from),
        limit: limit.into(),
        meaning: meaning.into(),
        outside: meaning.starts_with("Not as"),
    };
    Letter {
        number: number(made),
        mended: said(
            "Yes, as far as the road test shows: the fault did not come back.",
            &[23],
        ),
        found: vec![
            said(
                "Solenoid B (the valve that the code names) is out of spec. That explains code P0763.",
                &[3, 12],
            ),
            said(
                "In the oil pan we counted 20 pieces (likely 14 to 29). The largest is 1.40 mm long: steel flake.",
                &[9, 10],
            ),
            said(
                "Wear level 3 of 5, “Active”: More wear than distance explains. Some part is wearing now.",
                &[9],
            ),
        ],
        done: vec![
            said(
                "We replaced: Solenoid B; Oil filter and its seal.",
                &[16, 17],
            ),
            said("The old part is kept for you: Solenoid B.", &[16]),
            said("All that we took off is back in its place.", &[7]),
        ],
        beside: beside.to_vec(),
        overruled: None,
        costs: vec![
            Cost {
                what: "The work of this visit:".into(),
                said: said("386.00 EUR", &[4]),
                advice: None,
            },
            Cost {
                what: "Finish this service, and have the pan looked into again after 10,000 km."
                    .into(),
                said: said("95.00 EUR", &[4]),
                advice: Some(0),
            },
        ],
        close_ups: Vec::new(),
        measured: vec![
            row(
                "Solenoid B, taken out",
                "38.0 ± 0.6 ohm",
                &[12],
                "21 to 25 ohm",
                "Not as it should be; this part was replaced",
            ),
            row(
                "Solenoid D",
                "open",
                &[12],
                "21 to 25 ohm",
                "Not as it should be",
            ),
            row(
                "Solenoid C",
                "24.8 ± 0.6 ohm",
                &[12],
                "21 to 25 ohm",
                "Too near the limit to say",
            ),
            row(
                "Solenoid A",
                "23.2 ± 0.6 ohm",
                &[12],
                "21 to 25 ohm",
                "As it should be",
            ),
            row(
                "Solenoid B, new",
                "23.1 ± 0.6 ohm",
                &[16],
                "21 to 25 ohm",
                "As it should be",
            ),
            row(
                "Wear level (0 to 100)",
                "41 (29 to 58)",
                &[9],
                "No published limit. Our scale: level 3 of 5",
                "More wear than distance explains. Some part is wearing now.",
            ),
            row(
                "Pieces in the oil pan",
                "20 (14 to 29)",
                &[9],
                "No published limit",
                "Counts in the wear level",
            ),
            row(
                "Magnet covered",
                "62 % (58 to 66 %)",
                &[13],
                "No published limit",
                "Counts in the wear level",
            ),
            row(
                "Fault codes before",
                "P0763",
                &[3],
                "none",
                "The car has stored a fault",
            ),
            row(
                "Fault codes after",
                "none",
                &[3],
                "none",
                "No fault is stored",
            ),
            row(
                "Oil level",
                "38 °C",
                &[21],
                "35 to 45 °C",
                "The level is right",
            ),
        ],
    }
}

pub fn evidence() -> Evidence {
    let instrument =
        |what: &str, name: &str, from: &[u16], serial: &str, checked: &str| InstrumentSaid {
            what: what.into(),
            said: said(name, from),
            serial: serial.into(),
            checked: checked.into(),
        };
    Evidence {
        instruments: vec![
            instrument(
                "Meter",
                "workshop meter, ± (0.8 % + 3 counts)",
                &[12],
                "INV-0042",
                "2026-02-11",
            ),
            instrument("Torque wrench", "click wrench", &[18], "", ""),
            instrument("Gauge card", "printed", &[8], "", "150.0 mm, 2026-05-02"),
        ],
        conditions: vec![said(
            "Part at 22 °C; oil at 41 °C when it came out.",
            &[5, 12],
        )],
        corrections: vec![said(
            "Photo of the patch, piece of 0.84 mm at 912, 433 px: the machine said lining; A. Sample says grit.",
            &[10],
        )],
        counts: vec![
            CountRow {
                photo: said("The patch", &[9]),
                class: None,
                machine: 23,
                now: 21,
            },
            CountRow {
                photo: said("The patch", &[9]),
                class: Some(DebrisClass::Grit),
                machine: 1,
                now: 2,
            },
        ],
        reference: Vec::new(),
        decision_rule: Words::of("en").fill(id!("report-annex-rule-words"), &[("percent", "95")]),
    }
}

/// Three pieces, each in a picture of `copies`.
#[allow(dead_code)] // not every test shows them
pub fn close_ups(copies: &[(Sha256Hex, [u32; 2])]) -> Vec<CloseUp> {
    let pieces = [
        (DebrisClass::SteelFlake, 1.40),
        (DebrisClass::YellowMetal, 1.12),
        (DebrisClass::Lining, 0.95),
    ];
    copies
        .iter()
        .zip(pieces)
        .map(|((copy, size_px), (class, mm))| CloseUp {
            photo: line(8),
            copy: *copy,
            size_px: *size_px,
            px_per_mm: Some(fixed(f64::from(size_px[0]) / (mm * 2.0))),
            class,
            size: Some(SizeMm {
                mm: fixed(mm),
                lo: fixed(mm - 0.09),
                hi: fixed(mm + 0.1),
            }),
            points: (0..14)
                .map(|corner| {
                    let turn = f64::from(corner) / 14.0 * std::f64::consts::TAU;
                    let far = 2300.0 * (1.0 + 0.18 * (3.0 * turn).sin());
                    [5000.0 + far * turn.cos(), 5000.0 + far * turn.sin()].map(|at| at as u16)
                })
                .collect(),
        })
        .collect()
}
