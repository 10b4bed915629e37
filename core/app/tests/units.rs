//! Numbers in the units of the device: typed, asked for, told.

#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod bay;

use bay::Bay;
use swarfbook_app::App;
use swarfbook_app::command::{Command, NumberTyped};
use swarfbook_app::problem::{Problem, ProblemKind};
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_app::view::{JobView, WantView};
use swarfbook_job::fact::{Car, Fact, Measured, Observed, Tightened};
use swarfbook_job::procedure::Evidence;
use swarfbook_measure::unit::{Quantity, Unit, Units};

impl Bay {
    fn set(units: Units) -> Bay {
        Bay::with(|dir| {
            let app = App::open(dir).unwrap();
            let settings = Settings {
                units,
                ..Settings::default()
            };
            app.call(Command::SaveSettings { settings }).unwrap();
            app
        })
    }

    fn read(&self, typed: &str, quantity: Option<Quantity>) -> Result<Option<f64>, Problem> {
        let typed = vec![NumberTyped {
            name: "The number".into(),
            typed: typed.into(),
            quantity,
        }];
        match self.app.call(Command::ReadNumbers { typed })? {
            Reply::Numbers { numbers } => Ok(numbers[0]),
            other => panic!("{other:?}"),
        }
    }

    fn number(&self, typed: &str, quantity: Quantity) -> f64 {
        self.read(typed, Some(quantity)).unwrap().unwrap()
    }
}

fn want<'a>(job: &'a JobView, topic: &str) -> &'a WantView {
    let steps = job.stages.iter().flat_map(|stage| &stage.steps);
    steps
        .flat_map(|step| &step.wants)
        .find(|want| {
            want.want
                .evidence
                .number()
                .is_some_and(|one| one.topic == topic)
        })
        .unwrap()
}

/// NIST SP 811 (2008), appendix B.8 (from memory): 1 mi = 1.609344 km, 1 lbf·ft =
/// 1.355818 N·m, 1 US qt = 0.9463529 l, 1 in = 25.4 mm, t/°C = (t/°F - 32)/1.8.
#[test]
fn what_is_typed_is_read_in_the_devices_unit_unless_another_stands_with_it() {
    let bay = Bay::set(Units::AMERICAN);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-6 * b.abs(), "{a} is not {b}");
    close(bay.number("73500", Quantity::Distance), 118_286.784);
    close(bay.number("118286,784 km", Quantity::Distance), 118_286.784);
    close(bay.number("176", Quantity::Temperature), 80.0);
    close(bay.number("80 °C", Quantity::Temperature), 80.0);
    close(bay.number("8", Quantity::Torque), 10.846_544);
    close(bay.number("4.9", Quantity::Volume), 4.637_129);
    close(bay.number("1", Quantity::Length), 25.4);
    close(bay.number("0.4k", Quantity::Resistance), 400.0);
    assert_eq!(bay.read("-12,5", None).unwrap(), Some(-12.5));
    assert_eq!(bay.read("  ", Some(Quantity::Torque)).unwrap(), None);
}

#[test]
fn what_is_no_number_is_told_by_its_name() {
    let bay = Bay::set(Units::AMERICAN);
    for (typed, quantity, part) in [
        ("warm", Some(Quantity::Temperature), "warm"),
        ("8 km", Some(Quantity::Torque), "distance"),
        ("-4", Some(Quantity::Volume), "below zero"),
        ("1,2,3", None, "not a number"),
        ("12 kg", None, "not a number"),
    ] {
        let problem = bay.read(typed, quantity).unwrap_err();
        assert_eq!(problem.kind, ProblemKind::BadInput);
        let said = problem.to_string();
        assert!(said.starts_with("The number: "), "{said}");
        assert!(said.contains(part), "{said}");
    }
    let many = vec![
        NumberTyped {
            name: String::new(),
            typed: "1".into(),
            quantity: None
        };
        1000
    ];
    assert!(bay.app.call(Command::ReadNumbers { typed: many }).is_err());
}

#[test]
fn a_job_is_asked_and_told_in_the_devices_units_and_kept_in_the_cores() {
    let bay = Bay::set(Units::AMERICAN);
    bay.insist(Fact::CarNoted {
        car: Car {
            plate: "TEST 9".into(),
            odometer_km: Some(bay.number("73500", Quantity::Distance)),
            fluid_changed_at_km: Some(bay.number("40000", Quantity::Distance)),
            ..Car::default()
        },
    });
    let job = bay.view();
    assert!(
        job.car_words[0].starts_with("33,500 mi since"),
        "{:?}",
        job.car_words
    );
    bay.insist(Fact::Measured {
        measured: Measured {
            step: "drained".into(),
            topic: "fluid_out_l".into(),
            value: bay.number("4.9", Quantity::Volume),
            typed: "4.9 US qt".into(),
        },
    });
    let job = bay.view();
    let out = want(&job, "fluid_out_l");
    assert_eq!(out.words, "4.9 US qt");
    assert_eq!(out.value.as_deref(), Some("4.9"));
    assert_eq!(out.measures, Some(Quantity::Volume));
    let filled = want(&job, "fluid_in_l");
    assert_eq!(filled.offers[0].label, "4.9 US qt, as before");
    let Evidence::Measure { unit, quick, .. } = &want(&job, "level_c").want.evidence else {
        panic!("a number is asked for")
    };
    assert_eq!((unit.as_str(), quick[0]), ("°F", 86.0));
    assert_eq!(want(&job, "level_c").offers[0].label, "86");
    assert_eq!(job.fluid_words, ["4.9 US qt came out."]);
    bay.insist(Fact::Tightened {
        step: "pan-bolts".into(),
        tightened: Tightened {
            what: "pan bolts".into(),
            torque_nm: Some(bay.number("8", Quantity::Torque)),
            by_hand_first: true,
            passes: 2,
            ..Tightened::default()
        },
    });
    let job = bay.view();
    let last = job
        .recent
        .iter()
        .rev()
        .find(|line| line.words.contains("pan bolts"));
    assert!(last.unwrap().words.ends_with("8 lb-ft"), "{last:?}");
    let report = bay.preview();
    for said in ["73,500 mi", "4.9 US qt", "8 lb-ft"] {
        assert!(report.contains(said), "{said}");
    }
}

#[test]
fn what_can_not_be_is_told_in_the_devices_units() {
    let bay = Bay::set(Units::AMERICAN);
    let hot = Fact::Measured {
        measured: Measured {
            step: "drained".into(),
            topic: "fluid_out_c".into(),
            value: bay.number("400", Quantity::Temperature),
            typed: "400 °F".into(),
        },
    };
    let problem = bay.try_write(hot, true).unwrap_err();
    assert!(problem.what.ends_with("400 °F can't be."), "{problem}");
    assert!(problem.do_next.contains("-40 °F and 320 °F"), "{problem}");
}

#[test]
fn a_unit_of_something_else_is_not_kept() {
    let bay = Bay::set(Units::default());
    let settings = Settings {
        units: Units {
            torque: Unit::Mile,
            ..Units::default()
        },
        ..Settings::default()
    };
    let problem = bay
        .app
        .call(Command::SaveSettings { settings })
        .unwrap_err();
    assert!(problem.what.contains("mi measures no torque"), "{problem}");
    assert!(matches!(bay.app.call(Command::Settings {}).unwrap(),
            Reply::Settings { settings } if settings.units == Units::default()));
}

#[test]
fn a_time_from_one_press_to_the_next_is_kept_told_and_reported() {
    let bay = Bay::set(Units::AMERICAN);
    let taken = |value: f64| {
        let measured = Measured {
            step: "road-test".into(),
            topic: "take_up_d".into(),
            value,
            typed: format!("{value} s"),
        };
        bay.try_write(Fact::Measured { measured }, true)
    };
    let (_, job) = taken(2.5).unwrap();
    assert!(!want(&job, "take_up_r").have);
    let (_, job) = taken(1.2).unwrap();
    let asked = want(&job, "take_up_d");
    assert!(asked.have, "{asked:?}");
    // The last one counts.
    assert_eq!((asked.words.as_str(), asked.measures), ("1.2 s", None));
    let last = job.recent.last().unwrap();
    assert_eq!(last.words, "From N to D, until it takes up: 1.2 s");
    for out_of_reach in [-0.1, 30.5] {
        let problem = taken(out_of_reach).unwrap_err();
        assert!(problem.do_next.contains("30"), "{problem}");
    }
    let observed = Observed {
        step: "road-test".into(),
        topic: "road_test".into(),
        choice: "gone".into(),
        ..Observed::default()
    };
    bay.insist(Fact::Observed { observed });
    let html = bay.preview().replace('\u{a0}', " ");
    assert!(html.contains("From N to D, until it takes up: 1.2 s"));
    assert!(!html.contains("2.5 s"), "the first one was taken again");
}
