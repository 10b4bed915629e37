//! At the door: what nobody stood by yet, a decision that is older than the evidence, and what
//! comes after the decision to open up.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod drawn;

use bay::Bay;
use drawn::Drawing;
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, PhotoCensusView, Standing};
use swarfbook_job::census::{DebrisClass, PhotoHints};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;

impl Bay {
    fn new() -> Bay {
        let bay = Bay::with(|dir| App::open(dir).expect("opens"));
        bay.write(Fact::CarNoted {
            car: Car {
                plate: "TEST 1".into(),
                odometer_km: Some(60_000.0),
                fluid_changed_at_km: Some(0.0),
                ..Car::default()
            },
        });
        bay
    }

    fn try_write(&self, fact: Fact) -> Result<EntryId, Problem> {
        let command = Command::Write {
            job: self.job,
            fact: Box::new(fact),
            sure: false,
        };
        match self.app.call(command)? {
            Reply::Written { entry, .. } => Ok(entry),
            other => panic!("{other:?}"),
        }
    }

    fn write(&self, fact: Fact) -> EntryId {
        self.try_write(fact).expect("written")
    }

    fn view(&self) -> Box<JobView> {
        match self.app.call(Command::Job { job: self.job }) {
            Ok(Reply::Job { job }) => job,
            other => panic!("{other:?}"),
        }
    }

    fn report(&self) -> String {
        let asked = Command::PreviewReport {
            job: self.job,
            leave_out: LeaveOut::default(),
            language: None,
        };
        match self.app.call(asked) {
            Ok(Reply::Report { html, .. }) => html,
            other => panic!("{other:?}"),
        }
    }

    fn answer(&self, step: &str, topic: &str, choice: &str) -> EntryId {
        self.write(observed(step, topic, &[choice], ""))
    }

    fn decide(&self, advised: AdviceChoice, chosen: AdviceChoice, why: Option<&str>) {
        self.write(decided(advised, chosen, why));
    }

    /// A photo of the patch with that many flakes, counted.
    fn patch(&self, n: usize) -> (EntryId, PhotoCensusView) {
        let mut drawing = Drawing::new(false);
        for _ in 0..n {
            drawing.piece(1.4, 0.9);
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
        let asked = Command::TakeCensus {
            job: self.job,
            photo: entry,
        };
        match self.app.call(asked).expect("counted") {
            Reply::Photo { photo, .. } => (entry, *photo),
            other => panic!("{other:?}"),
        }
    }
}

fn observed(step: &str, topic: &str, choices: &[&str], text: &str) -> Fact {
    let mut choices = choices.iter().map(|id| (*id).to_owned());
    Fact::Observed {
        observed: Observed {
            step: step.into(),
            topic: topic.into(),
            choice: choices.next().unwrap_or_default(),
            also: choices.collect(),
            text: text.into(),
        },
    }
}

fn decided(advised: AdviceChoice, chosen: AdviceChoice, why: Option<&str>) -> Fact {
    Fact::Decided {
        advised,
        chosen,
        reason: why.map(str::to_owned),
    }
}

fn standing(view: &JobView, id: &str) -> Standing {
    let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
    steps.find(|step| step.id == id).expect("a step").standing
}

#[test]
fn before_the_counts_are_confirmed_score_advice_and_report_say_so_first() {
    let bay = Bay::new();
    let (photo, _) = bay.patch(4);
    let open = bay.view().wear.expect("a score");
    let first = open.not_confirmed.expect("said");
    assert!(first.starts_with("Not yet confirmed"), "{first}");
    assert!(bay.report().contains("Not yet confirmed"));
    bay.write(Fact::CensusConfirmed { photo });
    let stood = bay.view().wear.expect("a score");
    assert_eq!(stood.not_confirmed, None);
    assert!(!bay.report().contains("Not yet confirmed"));
    // A correction takes the confirmation away again.
    bay.write(Fact::ParticleCorrected {
        photo,
        at_px: [0.0, 0.0],
        to: Correction::NotDebris,
    });
    let again = bay.view().wear.expect("a score");
    assert!(again.not_confirmed.is_some());
}

#[test]
fn a_reason_shows_its_own_pieces() {
    let bay = Bay::new();
    let (photo, census) = bay.patch(6);
    for (at, piece) in census.particles.iter().enumerate() {
        let class = match at % 2 {
            0 => DebrisClass::YellowMetal,
            _ => DebrisClass::SteelFlake,
        };
        bay.write(Fact::ParticleCorrected {
            photo,
            at_px: piece.at_px,
            to: Correction::Debris { class },
        });
    }
    let view = bay.view().wear.expect("a score");
    let mut seen = 0;
    for reason in &view.reasons {
        for of in &reason.pieces {
            assert_eq!(of.photo, photo);
            assert_eq!(reason.photo, Some(photo));
            for index in &of.pieces {
                let wanted = if index % 2 == 0 {
                    "brass or bronze"
                } else {
                    "steel"
                };
                assert!(reason.words.contains(wanted), "{index}: {}", reason.words);
                seen += 1;
            }
        }
    }
    assert_eq!(
        seen,
        census.particles.len(),
        "each piece stands with its reason"
    );
}

#[test]
fn a_decision_that_is_older_than_the_evidence_is_asked_again() {
    let bay = Bay::new();
    let (photo, census) = bay.patch(0);
    for piece in &census.particles {
        bay.write(Fact::ParticleCorrected {
            photo,
            at_px: piece.at_px,
            to: Correction::NotDebris,
        });
    }
    bay.write(Fact::CensusConfirmed { photo });
    bay.answer("census", "chunk", "no");
    bay.decide(AdviceChoice::CarryOn, AdviceChoice::CarryOn, None);
    let calm = bay.view();
    assert_eq!(standing(&calm, "census"), Standing::Done);
    assert_eq!(calm.decision.as_ref().expect("decided").outdated, None);

    bay.answer("census", "chunk", "gear_tooth");
    let again = bay.view();
    let outdated = again.decision.as_ref().and_then(|d| d.outdated.clone());
    assert!(
        outdated
            .expect("asked again")
            .contains("older than the evidence")
    );
    assert_ne!(standing(&again, "census"), Standing::Done);
    let report = bay.report();
    assert!(report.contains("older than the evidence"));
    assert!(!report.contains("Drive it as usual") && !report.contains("Yes, as far as we can see"));

    bay.decide(AdviceChoice::OpenUp, AdviceChoice::OpenUp, None);
    let anew = bay.view();
    assert_eq!(anew.decision.as_ref().expect("decided").outdated, None);
    assert_eq!(standing(&anew, "census"), Standing::Done);
    assert!(!bay.report().contains("older than the evidence"));
}

#[test]
fn who_overruled_with_open_eyes_is_not_asked_again() {
    let bay = Bay::new();
    bay.answer("census", "chunk", "gear_tooth");
    let why = "the owner drives it to the scrapyard himself";
    bay.decide(AdviceChoice::OpenUp, AdviceChoice::CarryOn, Some(why));
    bay.answer("drained", "fluid_smell", "burnt");
    let view = bay.view();
    let decision = view.decision.expect("decided");
    assert_eq!(decision.outdated, None);
    assert_eq!(decision.reason.as_deref(), Some(why));
    assert!(bay.report().contains(why));
}

#[test]
fn after_opening_up_neither_fill_nor_road_test_is_led_through() {
    let bay = Bay::new();
    bay.answer("magnets", "paste", "none");
    let refused = bay
        .try_write(decided(AdviceChoice::CarryOn, AdviceChoice::OpenUp, None))
        .expect_err("no reason");
    assert_eq!(refused.kind, ProblemKind::BadInput);
    bay.decide(
        AdviceChoice::CarryOn,
        AdviceChoice::OpenUp,
        Some("a tooth is missing, seen through the opening"),
    );
    let view = bay.view();
    for step in [
        "pan-bolts",
        "first-fill",
        "level",
        "road-test",
        "codes-after",
    ] {
        // Nobody skipped it: the decision leads past it.
        assert_eq!(standing(&view, step), Standing::Passed, "{step}");
    }
    for step in ["filter-read", "report", "waste"] {
        assert_ne!(standing(&view, step), Standing::Passed, "{step}");
    }
    // What leads on is taken back with the decision.
    bay.app
        .call(Command::Undo { job: bay.job })
        .expect("undone");
    assert_eq!(standing(&bay.view(), "first-fill"), Standing::Later);
}

#[test]
fn answers_that_rule_each_other_out_are_refused() {
    let bay = Bay::new();
    let several = bay.write(observed("filter-read", "filter", &["some", "metal"], ""));
    let view = bay.view();
    let line = view.recent.iter().find(|line| line.entry == several);
    assert_eq!(
        line.expect("written").words,
        "In the filter: some debris, metal"
    );
    for (step, topic, choices, text) in [
        ("filter-read", "filter", &["clean", "metal"][..], ""),
        ("filter-read", "filter", &["metal", "metal"][..], ""),
        ("filter-read", "filter", &["metal", "gold"][..], ""),
        ("magnets", "paste", &["none", "thin_film"][..], ""),
        ("census", "chunk", &["other"][..], " "),
    ] {
        let refused = bay
            .try_write(observed(step, topic, choices, text))
            .expect_err("must be refused");
        assert_eq!(refused.kind, ProblemKind::BadInput, "{refused}");
    }
    bay.write(observed("census", "chunk", &["other"], "pump gear"));
    let wear = bay.view().wear.expect("a score");
    assert!(wear.reasons.iter().any(|r| r.words.contains("pump gear")));
}
