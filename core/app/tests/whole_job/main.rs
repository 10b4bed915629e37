//! Stories at the door: what a technician does, and what the door answers.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod asked_back;
#[path = "../bay/mod.rs"]
mod bay;
mod drafts;

use std::sync::atomic::{AtomicI64, Ordering};

use bay::Bay;
use chrono::{DateTime, FixedOffset};
use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::problem::ProblemKind;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::{JobView, ReadingVerdict, Standing};
use swarfbook_app::{App, Profile};
use swarfbook_job::fact::*;
use swarfbook_job::id::EntryId;

/// A clock that goes on by a minute at each look.
#[derive(Default)]
struct Minutes(AtomicI64);

impl Clock for Minutes {
    fn now(&self) -> DateTime<FixedOffset> {
        let start = DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time");
        start + chrono::Duration::minutes(self.0.fetch_add(1, Ordering::Relaxed))
    }
}

fn by_minutes() -> Bay {
    Bay::with(|dir| App::open_with(dir, Box::new(Minutes::default())).expect("opens"))
}

impl Bay {
    fn refused(&self, fact: Fact, kind: ProblemKind, part: &str) {
        let before = self.view();
        let problem = self.try_write(fact, false).expect_err("must be refused");
        assert_eq!(problem.kind, kind, "{problem}");
        assert!(problem.to_string().contains(part), "{problem}");
        assert_eq!(self.view(), before, "a refusal changes nothing");
    }
}

fn car(odometer_km: f64) -> Fact {
    Fact::CarNoted {
        car: Car {
            plate: "TEST 1".into(),
            description: "invented estate car".into(),
            odometer_km: Some(odometer_km),
            fluid_changed_at_km: Some(60_000.0),
            ..Car::default()
        },
    }
}

fn solenoid() -> Fact {
    Fact::ComponentNoted {
        component: Component {
            name: "Solenoid B".into(),
            kind: ComponentKind::OnOffSolenoid,
            connector: "green".into(),
            part_number: String::new(),
            codes: vec!["P0753".into()],
            grounded_by_case: false,
        },
    }
}

fn reading(component: EntryId, samples: &[&str]) -> Fact {
    Fact::ReadingTaken {
        component,
        reading: Reading {
            quantity: ReadingKind::Resistance,
            samples: samples.iter().map(|s| (*s).to_owned()).collect(),
            leads: Some("0.3".into()),
            part_c: Some(22.0),
            meter: MeterUsed {
                name: "Workshop meter".into(),
                percent: 0.9,
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
        },
    }
}

fn spec(component: EntryId) -> Fact {
    Fact::SpecEntered {
        component,
        spec: SpecEntered {
            quantity: ReadingKind::Resistance,
            low: Some(11.0),
            high: Some(15.0),
            at_c: Some(20.0),
            source: "maker's manual (invented)".into(),
            sensor: None,
        },
    }
}

#[test]
fn a_new_job_stands_at_its_first_step_and_moves_on_with_evidence() {
    let bay = by_minutes();
    assert_eq!(bay.view().step_in_hand, "car");
    bay.refused(
        Fact::StepTicked { step: "car".into() },
        ProblemKind::NotYet,
        "plate or VIN",
    );
    bay.write(car(90_000.0));
    let view = bay.view();
    assert_eq!(view.step_in_hand, "complaint");
    assert_eq!(view.stages[0].standing, Standing::InHand);
    assert_eq!(view.title, "TEST 1");
    bay.write(Fact::StepSkipped {
        step: "complaint".into(),
        reason: "car of the shop".into(),
    });
    assert_eq!(bay.view().step_in_hand, "codes-before");
}

fn undo(bay: &Bay) -> Box<JobView> {
    match bay
        .app
        .call(Command::Undo { job: bay.job })
        .expect("undone")
    {
        Reply::Job { job } => job,
        other => panic!("{other:?}"),
    }
}

#[test]
fn undo_takes_back_the_last_line_and_is_a_line_itself() {
    let bay = by_minutes();
    bay.write(car(90_000.0));
    let before = bay.view();
    bay.write(Fact::StepTicked {
        step: "secured".into(),
    });
    let undone = undo(&bay);
    assert_eq!(undone.stages, before.stages);
    assert!(
        undone
            .recent
            .iter()
            .any(|l| l.words.starts_with("Undone: Done"))
    );
    undo(&bay);
    let nothing = bay
        .app
        .call(Command::Undo { job: bay.job })
        .expect_err("nothing left");
    assert_eq!(nothing.kind, ProblemKind::NotYet);
}

fn standing(view: &JobView, id: &str) -> Standing {
    let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
    steps.find(|step| step.id == id).expect("a step").standing
}

fn observed(step: &str, topic: &str, choice: &str) -> Fact {
    Fact::Observed {
        observed: Observed {
            step: step.into(),
            topic: topic.into(),
            choice: choice.into(),
            also: Vec::new(),
            text: String::new(),
        },
    }
}

fn measured(step: &str, topic: &str, value: f64) -> Fact {
    Fact::Measured {
        measured: Measured {
            step: step.into(),
            topic: topic.into(),
            value,
            typed: value.to_string(),
        },
    }
}

#[test]
fn a_step_ticks_itself_with_its_last_evidence_and_one_undo_takes_both_back() {
    let bay = by_minutes();
    let before = bay.view();
    bay.write(car(90_000.0));
    let settled = bay.view();
    assert_eq!(standing(&settled, "car"), Standing::Done);
    assert!(settled.recent.iter().any(|l| l.words == "Done: The car"));
    assert_eq!(
        settled.undo_words.as_deref(),
        Some("Car TEST 1, 90,000 km"),
        "undo names what was pressed, not the tick that it brought"
    );
    let undone = undo(&bay);
    assert_eq!(undone.stages, before.stages, "one undo, both are gone");

    // Evidence in any order; the tick comes with the last, not before.
    bay.write(observed("drained", "fluid_look", "clear"));
    bay.write(measured("drained", "fluid_out_l", 4.7));
    bay.write(observed("drained", "fluid_smell", "none"));
    assert_eq!(standing(&bay.view(), "drained"), Standing::Later);
    let last = bay.write(observed("drained", "fluid_colour", "brown"));
    assert_eq!(standing(&bay.view(), "drained"), Standing::Done);

    // The line that brought it taken back anywhere, the tick goes too.
    bay.app
        .call(Command::Retract {
            job: bay.job,
            entry: last,
            reason: None,
        })
        .expect("taken back");
    assert_eq!(standing(&bay.view(), "drained"), Standing::Later);

    // Steps whose evidence is not the work are ticked by hand.
    bay.write(solenoid());
    assert_eq!(standing(&bay.view(), "components"), Standing::Later);
}

#[test]
fn an_answer_that_asks_for_more_holds_the_tick() {
    let bay = by_minutes();
    bay.write(observed("leak-warm", "leak", "damp"));
    assert_eq!(standing(&bay.view(), "leak-warm"), Standing::Later);
    bay.write(observed("leak-warm", "leak", "dry"));
    assert_eq!(standing(&bay.view(), "leak-warm"), Standing::Done);

    // The level: gears, the maker's window, a thin trickle inside it.
    let level = |bay: &Bay| standing(&bay.view(), "level");
    bay.write(Fact::StepTicked {
        step: "gears".into(),
    });
    bay.write(measured("level", "level_low_c", 35.0));
    bay.write(measured("level", "level_high_c", 45.0));
    bay.write(measured("level", "level_c", 52.0));
    bay.write(observed("level", "level_seen", "trickle"));
    assert_eq!(
        level(&bay),
        Standing::Later,
        "too hot: the level is not set"
    );
    bay.write(measured("level", "level_c", 40.0));
    assert_eq!(level(&bay), Standing::Done);
    undo(&bay);
    bay.write(observed("level", "level_seen", "stream"));
    bay.write(measured("level", "level_c", 40.0));
    assert_eq!(level(&bay), Standing::Later, "a stream: let it run down");
}

#[test]
fn what_a_key_can_enter_is_offered_from_what_the_job_holds() {
    let bay = by_minutes();
    let offers = |step: &str| -> Vec<String> {
        let view = bay.view();
        let mut steps = view.stages.iter().flat_map(|stage| &stage.steps);
        let step = steps.find(|one| one.id == step).expect("a step");
        let wants = step.wants.iter().flat_map(|want| &want.offers);
        wants.map(|offer| offer.label.clone()).collect()
    };
    assert_eq!(offers("first-fill"), [""; 0], "nothing came out yet");
    bay.write(measured("drained", "fluid_out_l", 4.7));
    assert_eq!(offers("first-fill"), ["4.7 l, as before"]);
    assert_eq!(offers("drain-plug"), [""; 0], "a torque is never made up");
    let part = bay.write(solenoid());
    bay.write(spec(part));
    bay.write(reading(part, &["12.9", "12.9", "13.0"]));
    assert_eq!(offers("part-replaced"), [""; 0], "in spec");
    bay.write(reading(part, &["37.8", "37.8", "37.9"]));
    assert_eq!(offers("part-replaced"), ["Solenoid B"]);
}

#[test]
fn a_reading_gets_its_verdict_and_bad_ones_are_told() {
    let bay = by_minutes();
    let part = bay.write(solenoid());
    bay.write(spec(part));
    // Makers' figure for on/off solenoids, 11 to 15 ohm at 20 °C: domain notes, read in manuals.
    bay.write(reading(part, &["12.9", "12.9", "13.0"]));
    bay.write(reading(part, &["37.8", "37.8", "37.9"]));
    let readings = bay.view().components[0].readings.clone();
    assert_eq!(readings[0].verdict, ReadingVerdict::InSpec, "{readings:?}");
    assert_eq!(
        readings[1].verdict,
        ReadingVerdict::OutOfSpec,
        "{readings:?}"
    );

    bay.refused(reading(part, &["-5"]), ProblemKind::BadInput, "-5");
    bay.refused(reading(part, &["abc"]), ProblemKind::BadInput, "abc");
    bay.refused(reading(part, &[]), ProblemKind::BadInput, "no reading");
    bay.refused(
        reading(part, &["12,5 kΩ"]),
        ProblemKind::Doubtful,
        "12.5 kohm",
    );
    bay.try_write(reading(part, &["12,5 kΩ", "12,5 kΩ", "12,5 kΩ"]), true)
        .expect("the technician is sure");

    // An open is asked to be taken again, unless contact was shown.
    let mut open = reading(part, &["OL", "OL", "OL"]);
    if let Fact::ReadingTaken { reading, .. } = &mut open {
        reading.leads = None;
        reading.contact_shown = false;
    }
    bay.write(open.clone());
    let last = |bay: &Bay| {
        bay.view().components[0]
            .readings
            .last()
            .cloned()
            .expect("one")
    };
    assert_eq!(last(&bay).verdict, ReadingVerdict::TakeAgain);
    if let Fact::ReadingTaken { reading, .. } = &mut open {
        reading.contact_shown = true;
    }
    bay.write(open);
    assert_eq!(last(&bay).verdict, ReadingVerdict::OutOfSpec);
}

#[test]
fn places_of_bolts_are_kept_on_their_photo_and_no_more_than_there_are() {
    let bay = by_minutes();
    let picture = include_bytes!("../../demo/pan-01.jpg");
    let photo = bay.write(Fact::PhotoTaken {
        step: "pan-photo".into(),
        photo: bay.app.put_photo(picture).expect("kept"),
        subject: PhotoSubject::Pan,
    });
    let bolts = |count, photo, at_px: &[[f64; 2]]| Fact::PartOff {
        part: PartOff {
            step: "pan-photo".into(),
            item: "bolts".into(),
            place: "pan".into(),
            count,
            size: "M6".into(),
            length_mm: Some(25.0),
            photo,
            at_px: at_px.to_vec(),
        },
    };
    let two = [[400.0, 300.0], [900.5, 310.0]];
    bay.refused(
        bolts(1, Some(photo), &two),
        ProblemKind::BadInput,
        "2 places",
    );
    bay.refused(bolts(2, None, &two), ProblemKind::BadInput, "on no photo");
    let odd = [[f64::NAN, 1.0]];
    bay.refused(bolts(2, Some(photo), &odd), ProblemKind::BadInput, "place");
    bay.write(bolts(2, Some(photo), &two));
    let part = bay.view().parts[0].clone();
    assert_eq!(part.at_px, two);
    assert_eq!((part.photo, part.mark.as_str()), (Some(photo), "25"));
}

#[test]
fn nothing_closes_while_a_bolt_is_off() {
    let bay = by_minutes();
    let off = bay.write(Fact::PartOff {
        part: PartOff {
            step: "covers-off".into(),
            item: "bolt".into(),
            place: "brace, left".into(),
            count: 2,
            size: "M8".into(),
            length_mm: Some(25.0),
            photo: None,
            at_px: vec![],
        },
    });
    bay.write(Fact::Tightened {
        step: "plugs-closed".into(),
        tightened: Tightened {
            what: "level and fill plugs".into(),
            torque_nm: Some(35.0),
            by_hand_first: true,
            passes: 1,
            ..Tightened::default()
        },
    });
    let tick = Fact::StepTicked {
        step: "plugs-closed".into(),
    };
    bay.refused(
        tick.clone(),
        ProblemKind::NotYet,
        "2 × bolt M8 × 25 mm, brace, left",
    );
    let back = |count, replacement| Fact::PartBack {
        part: off,
        count,
        replacement,
    };
    bay.refused(
        back(3, false),
        ProblemKind::BadInput,
        "2 of 2 are still off",
    );
    bay.write(back(1, false));
    bay.write(Fact::PartLost {
        part: off,
        count: 1,
        text: "fell into the drain".into(),
    });
    bay.refused(tick.clone(), ProblemKind::NotYet, "1 thing is still off");
    bay.write(back(1, true));
    bay.write(tick);
    let part = bay.view().parts[0].clone();
    assert_eq!((part.off, part.lost), (0, 1), "a lost bolt stays a finding");
}
