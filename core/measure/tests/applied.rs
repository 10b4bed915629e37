//! Ohms from volts and amperes, worked by hand.

#![allow(clippy::expect_used)] // a test stops by panicking

use swarfbook_measure::conformity::{Guard, Verdict};
use swarfbook_measure::contact::{ContactShown, Sample};
use swarfbook_measure::judge::{Conductor, Leads, Reading, Spec, VoltsApplied, judge_applied};
use swarfbook_measure::meter::{Accuracy, Meter};
use swarfbook_measure::unit::Quantity;

fn meter(percent: f64, counts: f64) -> Meter {
    let accuracy = Accuracy { percent, counts };
    Meter {
        accuracy,
        resolution: None,
    }
}

fn applied(amperes: f64, volts: Option<f64>, shown: Option<ContactShown>) -> VoltsApplied {
    let look = Sample::Value {
        value: amperes,
        resolution: 0.01,
    };
    VoltsApplied {
        amperes: Reading {
            quantity: Quantity::Current,
            samples: vec![look; 3],
            leads: Leads::Unread,
            part_temp: None,
            conductor: Conductor::Copper,
            meter: meter(1.0, 3.0),
            contact_shown: shown,
        },
        volts: volts.map(|volts| (volts, 0.01)),
        voltmeter: meter(0.5, 2.0),
    }
}

fn limits(low: f64, high: f64) -> Spec {
    Spec {
        quantity: Quantity::Resistance,
        low: Some(low),
        high: Some(high),
        at_temp_c: None,
        source: "invented sheet".into(),
    }
}

/// Worked by hand. 12.40 V: ±(0.5 % + 2 x 0.01) = 0.082 V, u 0.04734 V, 0.3818 %.
/// 0.91 A: ±(1 % + 3 x 0.01) = 0.0391 A, u 0.02257 A, 2.4807 %. R = 13.626 ohm,
/// u = 13.626 x 2.5099 % = 0.3420 ohm (GUM 4.3.7, 5.1.6).
#[test]
fn ohms_come_of_volts_and_amperes_with_the_doubt_of_both() {
    let judged = judge_applied(&applied(0.91, Some(12.4), None), None, Guard::default());
    let judged = judged.expect("judged");
    assert!((judged.value.expect("ohms") - 13.626_374).abs() < 1e-5);
    assert!((judged.u.expect("u") - 0.342_01).abs() < 1e-4, "{judged:?}");
    assert_eq!(judged.verdict, None);
}

/// 13.6 ohm, 95 % of it within ±0.68: in 11 to 16, out of 20 to 30, too close to 13.5 to 15.
#[test]
fn they_are_held_against_the_makers_ohms() {
    for (low, high, verdict) in [
        (11.0, 16.0, Verdict::InSpec),
        (20.0, 30.0, Verdict::OutOfSpec),
        (13.5, 15.0, Verdict::TooCloseToCall),
    ] {
        let limits = limits(low, high);
        let judged = judge_applied(
            &applied(0.91, Some(12.4), None),
            Some(&limits),
            Guard::default(),
        );
        assert_eq!(judged.expect("judged").verdict, Some(verdict), "{low}");
    }
}

#[test]
fn no_current_is_an_open_only_when_the_ammeter_was_shown_to_pass_some() {
    let limits = limits(11.0, 16.0);
    let doubted = judge_applied(
        &applied(0.0, Some(12.4), None),
        Some(&limits),
        Guard::default(),
    );
    let doubted = doubted.expect("judged");
    assert_eq!((doubted.verdict, doubted.open), (None, false));
    assert!(doubted.ask.expect("asks").contains("fuse"));
    let shown = applied(0.0, Some(12.4), Some(ContactShown::Ticked));
    let open = judge_applied(&shown, Some(&limits), Guard::default()).expect("judged");
    assert_eq!((open.verdict, open.open), (Some(Verdict::OutOfSpec), true));
}

#[test]
fn amperes_without_volts_come_to_nothing() {
    for volts in [None, Some(0.0)] {
        let judged = judge_applied(&applied(0.91, volts, None), None, Guard::default());
        let judged = judged.expect("judged");
        assert_eq!((judged.value, judged.verdict), (None, None));
        assert!(judged.ask.expect("asks").contains("volts"));
    }
}
