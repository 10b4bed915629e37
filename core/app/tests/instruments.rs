//! What a report says of the tools: serial numbers and calibration, asked once a tool.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod pages;
mod taken;

use bay::Bay;
use swarfbook_app::command::Command;
use swarfbook_app::problem::ProblemKind;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_job::fact::{
    AmpsBy, Applied, CardChecked, Component, ComponentKind, Fact, Reading, ReadingKind, Tightened,
    ToolMark, Tools, TorqueTool,
};
use taken::taken;

impl Bay {
    fn set(&self, technician: &str, tools: Tools) {
        self.call(Command::SaveSettings {
            settings: Settings {
                technician: technician.into(),
                tools,
                ..Settings::default()
            },
        });
    }

    /// A part, and a reading of it by the meter that is called "Fine meter".
    fn read(&self, name: &str) {
        self.write(Fact::ComponentNoted {
            component: Component {
                name: name.into(),
                kind: ComponentKind::OnOffSolenoid,
                connector: String::new(),
                part_number: String::new(),
                codes: Vec::new(),
                grounded_by_case: false,
            },
        });
        let job = self.view();
        let part = job.components.iter().find(|part| part.name == name);
        self.write(Fact::ReadingTaken {
            component: part.expect("noted").entry,
            reading: taken(ReadingKind::Resistance, &["22.1"; 3]),
        });
    }

    /// Amperes by a clamp, at 12 V on the part that was noted last.
    fn read_by_clamp(&self) {
        let job = self.view();
        let part = job.components.last().expect("noted").entry;
        let applied = Applied {
            volts: "12.0".into(),
            by: AmpsBy::Clamp,
            click: None,
        };
        self.write(Fact::ReadingTaken {
            component: part,
            reading: Reading {
                applied: Some(applied),
                ..taken(ReadingKind::Applied, &["0.60"; 3])
            },
        });
    }

    fn tighten(&self, torque_nm: Option<f64>, tool: Option<TorqueTool>) {
        self.write(Fact::Tightened {
            step: "pan-bolts".into(),
            tightened: Tightened {
                what: "pan bolts".into(),
                torque_nm,
                by_hand_first: true,
                passes: 3,
                tool,
                ..Tightened::default()
            },
        });
    }

    /// The cells of the rows of the report's table of instruments.
    fn instruments(&self) -> Vec<Vec<String>> {
        let page = self.preview();
        let page = pages::read(&page);
        let has = |node: &roxmltree::Node<'_, '_>, label: &str| {
            node.attribute("aria-labelledby") == Some(label)
        };
        let section = page.descendants().find(|node| has(node, "evidence"));
        let rows = section.expect("there").descendants();
        let rows = rows.filter(|node| node.has_tag_name("tr"));
        let words = |cell: roxmltree::Node<'_, '_>| {
            let numbers = |node: &roxmltree::Node<'_, '_>| {
                node.ancestors()
                    .any(|one| one.attribute("class") == Some("ref"))
            };
            let texts = cell.descendants().filter(|node| node.is_text());
            let said: String = texts
                .filter(|node| !numbers(node))
                .filter_map(|node| node.text())
                .collect();
            let said = said.replace(['\u{a0}', '\u{2060}'], " ");
            said.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        rows.skip(1)
            .map(|row| {
                let cells = row.children().filter(|cell| cell.is_element());
                cells.map(words).collect()
            })
            .collect()
    }
}

fn mark(serial: &str, day: &str) -> ToolMark {
    ToolMark {
        serial: serial.into(),
        calibrated: day.parse().ok(),
    }
}

fn tools(meter: &str) -> Tools {
    Tools {
        meters: [(meter.to_owned(), mark("INV-0042", "2026-02-11"))].into(),
        wrench: mark("INV-0043", ""),
        clamp: mark("INV-0044", "2026-02-13"),
        card: Some(CardChecked {
            line_mm: 150.2,
            day: None,
        }),
    }
}

#[test]
fn a_tool_that_nothing_was_stated_of_is_said_not_to_be() {
    let bay = Bay::new();
    bay.read("A");
    bay.tighten(Some(10.0), None);
    assert_eq!(
        bay.instruments(),
        [
            [
                "Meter",
                "Fine meter, ± (0.2 % + 2 counts)",
                "not stated",
                "not stated"
            ],
            ["Torque wrench", "not stated", "not stated", "not stated"],
        ]
    );
    bay.read_by_clamp();
    // What it is taken to be is `CLAMP` of core/measure.
    assert_eq!(
        bay.instruments()[1],
        [
            "Current clamp",
            "taken to be ± (2 % + 5 counts)",
            "not stated",
            "not stated"
        ]
    );
}

/// The limits of ISO 6789 as in `core/measure/src/torque/tests.rs`.
#[test]
fn what_was_stated_stands_in_the_report_and_in_the_log() {
    let bay = Bay::new();
    bay.set("A. Sample", tools("Fine meter"));
    bay.read("A");
    bay.tighten(Some(10.0), Some(TorqueTool::Scale { most_nm: 25.0 }));
    bay.tighten(Some(10.0), Some(TorqueTool::Percent { percent: 3.0 }));
    bay.tighten(None, None);
    let day = "11 February 2026";
    assert_eq!(
        bay.instruments(),
        [
            ["Meter", "Fine meter, ± (0.2 % + 2 counts)", "INV-0042", day],
            [
                "Torque wrench",
                "Setting wrench, scale to 25 N·m: ± 4 % (ISO 6789)",
                "INV-0043",
                "not stated"
            ],
            [
                "Torque wrench",
                "± 3 % by its certificate",
                "INV-0043",
                "not stated"
            ],
        ]
    );
    let Reply::Log { lines, .. } = bay.call(Command::Log { job: bay.job }) else {
        panic!("a log")
    };
    let said = "Tools: Fine meter, number INV-0042, calibrated 11 February 2026; current clamp, \
                number INV-0044, calibrated 13 February 2026; torque wrench, number INV-0043; \
                gauge card, its line of 150 mm measured 150.2 mm";
    assert!(lines.iter().any(|line| line.words == said), "{lines:?}");
}

#[test]
fn a_clamp_is_told_with_its_number_and_calibration() {
    let bay = Bay::new();
    bay.set("A. Sample", tools("Fine meter"));
    bay.read("A");
    bay.read_by_clamp();
    let (accuracy, day) = ("taken to be ± (2 % + 5 counts)", "13 February 2026");
    assert_eq!(
        bay.instruments()[1],
        ["Current clamp", accuracy, "INV-0044", day]
    );
}

/// The number of one meter says nothing of another, nor of that in another's hand.
#[test]
fn a_number_goes_with_its_meter_and_its_hand() {
    let bay = Bay::new();
    bay.set("A. Sample", tools("Another meter"));
    bay.read("A");
    let serials = |bay: &Bay| -> Vec<String> {
        let rows = bay.instruments();
        rows.into_iter().map(|row| row[2].clone()).collect()
    };
    assert_eq!(serials(&bay), ["not stated"]);
    bay.set("B. Sample", tools("Fine meter"));
    bay.read("B");
    assert_eq!(serials(&bay), ["not stated", "INV-0042"]);
    // The first says it after the reading: it is the same meter all the same.
    bay.set("A. Sample", tools("Fine meter"));
    assert_eq!(serials(&bay), ["INV-0042"]);
    bay.report();
    bay.set("C. Sample", Tools::default());
    assert_eq!(serials(&bay), ["INV-0042"], "it stands in the log since");
}

#[test]
fn a_line_of_a_card_that_no_printer_makes_is_asked_back() {
    let bay = Bay::new();
    let card = Some(CardChecked {
        line_mm: 15.0,
        day: None,
    });
    let settings = Settings {
        tools: Tools {
            card,
            ..Tools::default()
        },
        ..Settings::default()
    };
    let refused = bay.app.call(Command::SaveSettings { settings });
    let why = refused.expect_err("too short");
    assert_eq!(why.kind, ProblemKind::BadInput, "{why:?}");
}
