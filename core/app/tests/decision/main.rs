//! At the door: what nobody stood by yet, a decision that is older than the evidence, and what
//! comes after the decision to open up.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

#[path = "../bay/mod.rs"]
mod bay;
#[path = "../carried/mod.rs"]
mod carried;
#[path = "../drawn/mod.rs"]
mod drawn;
mod in_report;

use bay::Bay;
use drawn::Drawing;
use swarfbook_app::command::Command;
use swarfbook_app::problem::ProblemKind;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, PhotoCensusView, Standing};
use swarfbook_job::census::{DebrisClass, PhotoHints};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;
use swarfbook_report::Content;

impl Bay {
    fn with_car() -> Bay {
        Bay::new().and_car()
    }

    fn and_car(self) -> Bay {
        self.write(Fact::CarNoted {
            car: Car {
                plate: "TEST 1".into(),
                odometer_km: Some(60_000.0),
                fluid_changed_at_km: Some(0.0),
                ..Car::default()
            },
        });
        self
    }

    /// What the signed report holds, as its data.
    fn content(&self) -> Content {
        carried::content(&self.report())
    }

    fn answer(&self, step: &str, topic: &str, choice: &str) -> EntryId {
        self.write(observed(step, topic, &[choice], ""))
    }

    fn complain(&self, words: &str, symptoms: &[&str]) {
        self.write(Fact::ComplaintNoted {
            complaint: Complaint {
                words: words.into(),
                when: Vec::new(),
                symptoms: symptoms.iter().map(|id| (*id).to_owned()).collect(),
            },
        });
    }

    fn decide(&self, advised: AdviceChoice, chosen: AdviceChoice, why: Option<&str>) {
        self.write(decided(advised, chosen, why));
    }

    /// A photo of the patch with that many flakes, counted.
    fn patch(&self, n: usize) -> (EntryId, PhotoCensusView) {
        self.patch_of(&vec![[1.4, 0.9]; n])
    }

    /// The same of pieces of these lengths and widths, mm.
    fn patch_of(&self, pieces: &[[f64; 2]]) -> (EntryId, PhotoCensusView) {
        let mut drawing = Drawing::new(false);
        for [mm, width] in pieces {
            drawing.piece(*mm, *width);
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
    let bay = Bay::with_car();
    let (photo, _) = bay.patch(4);
    let open = bay.view().wear.expect("a score");
    let first = open.not_confirmed.clone().expect("said");
    assert!(first.starts_with("Not yet confirmed"), "{first}");
    // First in the report, and beside its score. (The screens: ui/tests/first.test.ts.)
    let content = bay.content();
    let saved = content.answer.can_it_be_saved.words;
    assert!(saved.starts_with(&first), "{saved}");
    let held = content.wear.expect("a score").held_against;
    assert!(held.iter().any(|said| said.words == first), "{held:?}");
    let page = bay.preview();
    let told = page.find(&first).expect("told");
    let score = page.find("class=\"score").or(page.find("of 100, likely"));
    assert!(score.is_some_and(|score| told < score), "{told} {score:?}");
    bay.write(Fact::CensusConfirmed { photo });
    let stood = bay.view().wear.expect("a score");
    assert_eq!(stood.not_confirmed, None);
    assert!(!bay.preview().contains("Not yet confirmed"));
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
    let bay = Bay::with_car();
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

/// Paper gasket looks like friction material in a photo, so that the machine did not learn it: it
/// is the technician's word alone, weighs nothing, and is told by name.
#[test]
fn a_class_that_only_a_technician_gives_weighs_nothing_and_is_told() {
    assert!(!DebrisClass::LEARNED.contains(&DebrisClass::PaperGasket));
    let bay = Bay::with_car();
    let (photo, census) = bay.patch_of(&[[5.2, 3.1], [5.4, 2.6]]);
    let score = |to: Correction| {
        for piece in &census.particles {
            bay.write(Fact::ParticleCorrected {
                photo,
                at_px: piece.at_px,
                to,
            });
        }
        bay.view().wear.expect("a score").score
    };
    let of = |class| Correction::Debris { class };
    let nothing = score(Correction::NotDebris);
    assert!(score(of(DebrisClass::Lining)) > nothing + 10.0);
    assert!((score(of(DebrisClass::PaperGasket)) - nothing).abs() < 1e-9);
    bay.write(Fact::CensusConfirmed { photo });
    let told = bay.content().photos;
    let counts = &told.first().expect("a photo").counts;
    let told: Vec<_> = counts.iter().map(|count| (count.class, count.n)).collect();
    let n = u32::try_from(census.particles.len()).expect("few");
    assert_eq!(told, [(DebrisClass::PaperGasket, n)]);
    assert!(bay.preview().contains("paper gasket"));
}

#[test]
fn a_decision_that_is_older_than_the_evidence_is_asked_again() {
    let bay = Bay::with_car();
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
    let report = bay.preview();
    assert!(report.contains("older than the evidence"));
    assert!(!report.contains("Drive it as usual") && !report.contains("Yes, as far as we can see"));

    bay.decide(AdviceChoice::OpenUp, AdviceChoice::OpenUp, None);
    let anew = bay.view();
    assert_eq!(anew.decision.as_ref().expect("decided").outdated, None);
    assert_eq!(standing(&anew, "census"), Standing::Done);
    assert!(!bay.preview().contains("older than the evidence"));
}

#[test]
fn who_overruled_with_open_eyes_is_not_asked_again() {
    let bay = Bay::with_car();
    bay.answer("census", "chunk", "gear_tooth");
    let why = "the owner drives it to the scrapyard himself";
    bay.decide(AdviceChoice::OpenUp, AdviceChoice::CarryOn, Some(why));
    bay.answer("drained", "fluid_smell", "burnt");
    let view = bay.view();
    let decision = view.decision.expect("decided");
    assert_eq!(decision.outdated, None);
    assert_eq!(decision.reason.as_deref(), Some(why));
    assert!(bay.preview().contains(why));
}

#[test]
fn after_opening_up_neither_fill_nor_road_test_is_led_through() {
    let bay = Bay::with_car();
    bay.answer("magnets", "paste", "none");
    let refused = bay
        .try_write(
            decided(AdviceChoice::CarryOn, AdviceChoice::OpenUp, None),
            false,
        )
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

/// A procedure that marks no stage as closing: a shop's own, or an earlier version.
#[test]
fn a_procedure_that_marks_nothing_is_not_led_on_to_fill_and_road_test_either() {
    let step = |id: &str, evidence: &str| {
        format!("[[stage.step]]\nid = \"{id}\"\ntitle = \"{id}\"\nevidence = [{evidence}]\n")
    };
    let stage = |id: &str, steps: &[String]| {
        let steps = steps.concat();
        format!("[[stage]]\nid = \"{id}\"\ntitle = \"{id}\"\n{steps}")
    };
    let seen = |topic: &str| {
        format!(
            "{{ kind = \"observe\", topic = \"{topic}\", label = \"{topic}\", choices = [{{ id = \"none\", label = \"none\" }}, {{ id = \"some\", label = \"some\" }}] }}"
        )
    };
    let text = [
        "id = \"own\"\nversion = 1\ntitle = \"Own\"\n".to_owned(),
        stage(
            "first",
            &[step(
                "bolts-before",
                "{ kind = \"tighten\", what = \"a brace\" }",
            )],
        ),
        stage(
            "read",
            &[
                step("magnets", &seen("paste")),
                step("decide", "{ kind = \"decision\" }"),
            ],
        ),
        stage("looked-at", &[step("more", &seen("more"))]),
        stage(
            "closing",
            &[step(
                "bolts",
                "{ kind = \"tighten\", what = \"pan bolts\" }",
            )],
        ),
        stage(
            "filling",
            &[
                step("filled", &seen("filled")),
                step("level", &seen("level_seen")),
            ],
        ),
        stage("drive", &[step("road", &seen("road_test"))]),
        stage("end", &[step("given", "{ kind = \"report\" }")]),
    ]
    .concat();
    let bay = Bay::by(&text).and_car();
    bay.answer("magnets", "paste", "none");
    bay.decide(
        AdviceChoice::CarryOn,
        AdviceChoice::OpenUp,
        Some("a tooth is missing"),
    );
    let view = bay.view();
    for step in ["bolts", "filled", "level", "road"] {
        assert_eq!(standing(&view, step), Standing::Passed, "{step}");
    }
    for step in ["bolts-before", "more", "given"] {
        assert_ne!(standing(&view, step), Standing::Passed, "{step}");
    }
}

#[test]
fn what_was_to_be_tested_first_is_done_with_once_it_is_tested() {
    let bay = Bay::with_car();
    bay.answer("magnets", "paste", "none");
    bay.complain("bangs into second", &["harsh"]);
    assert_eq!(
        bay.view().wear.expect("scored").advice,
        AdviceChoice::TestFirst
    );
    bay.decide(AdviceChoice::TestFirst, AdviceChoice::TestFirst, None);
    let first = bay.preview();
    assert!(!first.contains("was tested; what the log holds now"));
    bay.complain("nothing, it is here for its service", &["none"]);
    let content = bay.content();
    let decision = content.decision.expect("decided").said.words;
    assert!(decision.contains("was tested; what the log holds now advises"));
    let calm = content.answer.can_it_be_saved.words;
    assert!(calm.contains("Yes, as far as we can see"), "{calm}");
}

#[test]
fn answers_that_rule_each_other_out_are_refused() {
    let bay = Bay::with_car();
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
            .try_write(observed(step, topic, choices, text), false)
            .expect_err("must be refused");
        assert_eq!(refused.kind, ProblemKind::BadInput, "{refused}");
    }
    bay.write(observed("census", "chunk", &["other"], "pump gear"));
    let wear = bay.view().wear.expect("a score");
    assert!(wear.reasons.iter().any(|r| r.words.contains("pump gear")));
}
