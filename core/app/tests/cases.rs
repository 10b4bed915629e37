//! The cases of `cases.toml`, each a job that comes through the door as the screens send it: the
//! photo is drawn (pieces of known length on paper), the machine counts it, the technician says
//! what each piece is and stands by the count.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod drawn;

use std::collections::BTreeMap;

use bay::Bay;
use drawn::{Drawing, Drawn};
use serde::Deserialize;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{PhotoCensusView, WearView};
use swarfbook_job::census::{DebrisClass, PhotoHints};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use swarfbook_wear::Band;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    case: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    name: String,
    why: String,
    odometer: f64,
    changed: Option<f64>,
    #[serde(default)]
    gearbox: GearboxHistory,
    #[serde(default)]
    pieces: Vec<Pieces>,
    #[serde(default)]
    answers: Vec<String>,
    #[serde(default)]
    symptoms: Vec<String>,
    /// The customer's words; invented ones where only a symptom is told.
    complaint: Option<String>,
    /// A solenoid of 11 to 15 ohm, read as this.
    solenoid: Option<String>,
    code: Option<String>,
    bands: Option<Vec<Band>>,
    advice: Option<AdviceChoice>,
    #[serde(default)]
    says: Vec<String>,
    #[serde(default)]
    says_not: Vec<String>,
    same_as: Option<String>,
    /// At least a band more than that case.
    more_than: Option<String>,
    /// In no lower band than that case, and the score not less.
    no_less_than: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Pieces {
    n: usize,
    class: DebrisClass,
    mm: f64,
    #[serde(default)]
    compact: bool,
}

impl Bay {
    fn census(&self, photo: EntryId) -> PhotoCensusView {
        let asked = Command::TakeCensus {
            job: self.job,
            photo,
        };
        match self.app.call(asked).expect("counted") {
            Reply::Photo { photo, .. } => *photo,
            other => panic!("{other:?}"),
        }
    }

    /// The patch with these pieces: taken, tapped, counted, each piece's class said.
    fn patch(&self, pieces: &[Pieces]) -> (EntryId, PhotoCensusView) {
        let mut drawing = Drawing::new(pieces.iter().any(|p| p.mm < 0.5));
        let mut wanted: Vec<(Drawn, DebrisClass)> = Vec::new();
        for of in pieces {
            let sliver = of.class == DebrisClass::SteelSliver;
            for _ in 0..of.n {
                let width = match (sliver, of.compact) {
                    (true, _) => of.mm * 0.16,
                    (false, true) => of.mm * 0.9,
                    (false, false) => of.mm * 0.6,
                };
                wanted.push((drawing.piece(of.mm, width), of.class));
            }
        }
        let photo = self.app.put_photo(&drawing.png()).expect("kept");
        let entry = self.write(Fact::PhotoTaken {
            step: "patch".into(),
            photo,
            subject: PhotoSubject::Patch,
        });
        let (taps, tap_mm) = drawing.taps();
        self.write(Fact::PhotoHinted {
            photo: entry,
            hints: PhotoHints {
                taps: Some(taps),
                tap_mm: Some(tap_mm),
                ..PhotoHints::default()
            },
        });
        let census = self.census(entry);
        for piece in &census.particles {
            let of = wanted.iter().find(|(drawn, _)| drawn.holds(piece.at_px));
            self.write(Fact::ParticleCorrected {
                photo: entry,
                at_px: piece.at_px,
                to: match of {
                    Some((_, class)) => Correction::Debris { class: *class },
                    None => Correction::NotDebris,
                },
            });
        }
        for (drawn, class) in &wanted {
            let found = census.particles.iter().filter(|p| drawn.holds(p.at_px));
            let found: Vec<f64> = found.map(|p| p.feret_max_mm).collect();
            assert_eq!(found.len(), 1, "{class:?} of {} mm: {found:?}", drawn.mm);
        }
        (entry, census)
    }

    fn confirm(&self, photo: EntryId) {
        self.write(Fact::CensusConfirmed { photo });
    }

    /// "step/topic: answer, answer".
    fn answer(&self, text: &str) {
        let (place, answers) = text.split_once(": ").expect("an answer");
        let (step, topic) = place.split_once('/').expect("a step");
        let mut answers = answers.split(", ").map(str::to_owned);
        self.write(Fact::Observed {
            observed: Observed {
                step: step.into(),
                topic: topic.into(),
                choice: answers.next().expect("an answer"),
                also: answers.collect(),
                text: String::new(),
            },
        });
    }

    fn solenoid(&self, ohms: &str, code: &str) {
        let component = self.write(Fact::ComponentNoted {
            component: Component {
                name: "Solenoid B".into(),
                kind: ComponentKind::OnOffSolenoid,
                connector: "green".into(),
                part_number: String::new(),
                codes: vec![code.to_owned()],
                grounded_by_case: false,
            },
        });
        self.write(Fact::SpecEntered {
            component,
            spec: SpecEntered {
                quantity: ReadingKind::Resistance,
                low: Some(11.0),
                high: Some(15.0),
                at_c: Some(20.0),
                source: "maker's manual (invented)".into(),
                sensor: None,
            },
        });
        self.write(Fact::ReadingTaken {
            component,
            reading: Reading {
                quantity: ReadingKind::Resistance,
                samples: vec![ohms.to_owned(), ohms.to_owned(), ohms.to_owned()],
                leads: Some("0.3".into()),
                part_c: Some(20.0),
                meter: MeterUsed {
                    name: "Workshop meter".into(),
                    percent: 0.9,
                    counts: 2.0,
                },
                contact_shown: true,
                part_within_k: None,
                sibling: None,
                range_top: None,
                part_from: None,
                test_volts: None,
                guard: None,
                applied: None,
                display: None,
            },
        });
    }
}

/// The job of a case, with every count confirmed.
fn job(case: &Case) -> WearView {
    let bay = Bay::new();
    bay.write(Fact::CarNoted {
        car: Car {
            plate: "TEST 1".into(),
            description: "invented".into(),
            odometer_km: Some(case.odometer),
            fluid_changed_at_km: case.changed,
            gearbox: case.gearbox.clone(),
            ..Car::default()
        },
    });
    if !case.symptoms.is_empty() || case.complaint.is_some() {
        let invented = || "as the customer says it (invented)".into();
        bay.write(Fact::ComplaintNoted {
            complaint: Complaint {
                words: case.complaint.clone().unwrap_or_else(invented),
                when: Vec::new(),
                symptoms: case.symptoms.clone(),
            },
        });
    }
    if let Some(code) = &case.code {
        bay.write(Fact::CodesRead {
            moment: Moment::Before,
            codes: vec![CodeSeen {
                code: code.clone(),
                state: CodeState::Stored,
                status: None,
            }],
        });
    }
    let (photo, _) = bay.patch(&case.pieces);
    bay.confirm(photo);
    for answer in &case.answers {
        bay.answer(answer);
    }
    if let (Some(ohms), Some(code)) = (&case.solenoid, &case.code) {
        bay.solenoid(ohms, code);
    }
    bay.view().wear.expect("a score")
}

/// All that a job says of score and advice.
fn said(wear: &WearView) -> String {
    let reasons = wear.reasons.iter().map(|r| &r.words);
    let all = reasons
        .chain(&wear.advice_reasons)
        .chain(&wear.next_tests)
        .chain(&wear.findings)
        .chain(&wear.missing);
    all.cloned().collect::<Vec<_>>().join("\n")
}

fn rank(band: Band) -> usize {
    Band::ALL.iter().position(|b| *b == band).expect("a band")
}

#[test]
fn each_case_comes_through_the_door_as_the_trade_reads_it() {
    let table: Table = toml::from_str(include_str!("cases.toml")).expect("the table");
    let names: Vec<&str> = table.case.iter().map(|c| c.name.as_str()).collect();
    let all: BTreeMap<&str, WearView> = table
        .case
        .iter()
        .map(|case| (case.name.as_str(), job(case)))
        .collect();
    for letter in ('A'..='Z')
        .map(String::from)
        .chain(('A'..='J').map(|second| format!("A{second}")))
    {
        assert!(names.contains(&letter.as_str()), "no case {letter}");
    }
    let mut wrong = Vec::new();
    for case in &table.case {
        let got = &all[case.name.as_str()];
        println!(
            "{:18} {:3} ({:2} to {:3})  {:8}  {:?}",
            case.name, got.score, got.lo, got.hi, got.band_name, got.advice
        );
        let mut expect = |holds: bool, what: String| {
            if !holds {
                wrong.push(format!(
                    "{}: {what}. {}\n{}",
                    case.name,
                    case.why,
                    said(got)
                ));
            }
        };
        if let Some(bands) = &case.bands {
            expect(bands.contains(&got.band), format!("band {:?}", got.band));
        }
        if let Some(advice) = case.advice {
            expect(got.advice == advice, format!("advice {:?}", got.advice));
        }
        for words in &case.says {
            expect(
                said(got).contains(words),
                format!("does not say \"{words}\""),
            );
        }
        for words in &case.says_not {
            expect(!said(got).contains(words), format!("says \"{words}\""));
        }
        if let Some(other) = &case.same_as {
            let other = &all[other.as_str()];
            expect(
                (got.score, got.band, got.advice) == (other.score, other.band, other.advice),
                format!("not as {} {:?}", other.score, other.band),
            );
        }
        if let Some(other) = &case.more_than {
            let other = &all[other.as_str()];
            expect(rank(got.band) > rank(other.band), "no band more".to_owned());
        }
        if let Some(other) = &case.no_less_than {
            let other = &all[other.as_str()];
            expect(
                rank(got.band) >= rank(other.band) && got.score >= other.score,
                format!("less than {} {:?}", other.score, other.band),
            );
        }
        expect(got.not_confirmed.is_none(), "not confirmed".to_owned());
        expect(
            got.lo <= got.score && got.score <= got.hi && got.lo < 100.0,
            "interval".to_owned(),
        );
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n\n"));
}
