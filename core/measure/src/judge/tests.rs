mod sensors;

use super::*;
use crate::meter::{Accuracy, Grade};
use proptest::prelude::*;
use swarfbook_job::fact::{SensorData, SensorRow};

fn looks(values: &[f64], resolution: f64) -> Vec<Sample> {
    values
        .iter()
        .map(|value| Sample::Value {
            value: *value,
            resolution,
        })
        .collect()
}

fn leads(ohms: f64) -> Leads {
    Leads::Read {
        ohms,
        resolution: None,
    }
}

fn winding(values: &[f64], celsius: f64) -> Reading {
    Reading {
        quantity: Quantity::Resistance,
        samples: looks(values, 0.1),
        leads: leads(0.3),
        part_temp: Some(PartTemp {
            celsius,
            half_width_c: Some(1.0),
        }),
        conductor: Conductor::Copper,
        meter: Grade::Workshop.meter(),
        contact_shown: None,
    }
}

fn ohms(low: f64, high: f64) -> Spec {
    Spec {
        quantity: Quantity::Resistance,
        low: Some(low),
        high: Some(high),
        at_temp_c: Some(20.0),
        source: "invented manual, page 7".into(),
    }
}

fn said(reading: &Reading, spec: &Spec) -> Judgement {
    judge(reading, spec, Guard::default()).unwrap()
}

/// Limits as read in makers' manuals (11..15 and 5.0..5.6 ohm at 20 °C); the
/// verdicts worked by hand from the 234.5 rule and JCGM 106.
#[test]
fn windings_against_their_specs() {
    use Verdict::*;
    let check = |values: &[f64], celsius, low, high, expect, asks: &str| {
        let got = said(&winding(values, celsius), &ohms(low, high));
        assert_eq!(
            got.verdict,
            Some(expect),
            "{values:?} at {celsius}: {}",
            got.words
        );
        let ask = got.ask.unwrap_or_default();
        assert!(
            if asks.is_empty() {
                ask.is_empty()
            } else {
                ask.contains(asks)
            },
            "{values:?} at {celsius} asked {ask:?}"
        );
    };
    check(&[13.2, 13.3, 13.2], 20.0, 11.0, 15.0, InSpec, "");
    check(&[31.0, 31.1, 31.0], 20.0, 11.0, 15.0, OutOfSpec, "");
    check(&[2.0, 2.0, 2.1], 20.0, 11.0, 15.0, OutOfSpec, "");
    check(
        &[15.3, 15.3, 15.3],
        20.0,
        11.0,
        15.0,
        TooCloseToCall,
        "finer meter",
    );
    // 17.0 - 0.3 at 80 °C is 13.5 at 20 °C: too high as it stands, in spec corrected.
    check(&[17.0, 17.0, 17.1], 80.0, 11.0, 15.0, InSpec, "");
    // 19.5 - 0.3 at 80 °C is 15.54 at 20 °C: beyond the limit, but only by correction;
    // with the winding 15 K warmer than where its temperature was taken it is 14.8.
    check(
        &[19.5, 19.5, 19.5],
        80.0,
        11.0,
        15.0,
        TooCloseToCall,
        "Confirm at 20 °C",
    );
    // 20.0 - 0.3 is 15.94, and 15.2 with the winding 15 K warmer: beyond it either way.
    check(&[20.0, 20.0, 20.0], 80.0, 11.0, 15.0, OutOfSpec, "");
    // 40 ohm fails at any temperature the winding can have.
    check(&[40.0, 40.0, 40.0], 80.0, 11.0, 15.0, OutOfSpec, "");
    // 5.3 at 70 °C is 4.43 at 20 °C: below 5.0, yet in spec as it was read.
    check(
        &[5.6, 5.6, 5.6],
        70.0,
        5.0,
        5.6,
        TooCloseToCall,
        "Confirm at 20 °C",
    );
}

/// 5.6 less 0.3 ohm at 70 °C is 4.42972 ohm at 20 °C (IEC 60028, with Python).
/// GUM 5.2.2: gain 0.9 % of 5.3 ohm over √3 and twice the rounding of a digit of
/// 0.1 ohm, 0.1 / √12, since the zero of one range is in both readings.
#[test]
fn the_numbers_of_a_corrected_reading() {
    let mut reading = winding(&[5.6, 5.6, 5.6], 70.0);
    if let Some(t) = reading.part_temp.as_mut() {
        t.half_width_c = Some(0.0);
    }
    let got = said(&reading, &ohms(5.0, 5.6));
    assert!((got.value.unwrap() - 5.3).abs() < 1e-9);
    assert!((got.corrected_value.unwrap() - 4.42972).abs() < 1e-5);
    let (gain, digit) = (0.009 * 5.3 / 3f64.sqrt(), 0.1 / 12f64.sqrt());
    let u = (gain * gain + 2.0 * digit * digit).sqrt() * 254.5 / 304.5;
    assert!((got.u.unwrap() - u).abs() < 1e-6, "{:?}", got.u);
    assert!(got.steps.iter().any(|s| s.contains("IEC 60028")));
    assert!(got.steps.iter().any(|s| s.contains("JCGM 106")));
}

/// JCGM 100 (GUM) 4.3.7: a half width a of a rectangular distribution has u = a / √3:
/// 3 K give 1.7 K, 20 K give 11.5 K.
#[test]
fn the_workings_tell_how_far_the_temperature_may_be_off() {
    let mut reading = winding(&[13.2, 13.2, 13.2], 40.0);
    let says = |reading: &Reading, words: &str| {
        let got = said(reading, &ohms(11.0, 15.0));
        assert!(
            got.steps.iter().any(|step| step.contains(words)),
            "{:?}",
            got.steps
        );
    };
    if let Some(t) = reading.part_temp.as_mut() {
        t.half_width_c = None;
    }
    says(
        &reading,
        "Part's temperature 40 °C ± 3 K, standard uncertainty 1.7 K.",
    );
    reading.part_temp = None;
    says(
        &reading,
        "20 °C ± 20 K assumed, standard uncertainty 11.5 K; copper",
    );
}

#[test]
fn what_does_not_sit_gets_no_verdict() {
    let spec = ohms(11.0, 15.0);
    let mut reading = winding(&[13.2, 19.5, 14.0], 20.0);
    let check = |reading: &Reading, asks: &str| {
        let got = said(reading, &spec);
        assert_eq!(got.verdict, None, "{}", got.words);
        assert_eq!(got.probability, None);
        assert!(got.ask.clone().unwrap().contains(asks), "{:?}", got.ask);
    };
    check(&reading, "Seat the probe and take it again");
    reading.samples = looks(&[13.2, 14.0, 15.9], 0.1);
    check(&reading, "drifts");
    reading.samples = looks(&[13.2], 0.1);
    check(&reading, "2 more times");
    reading.samples = vec![Sample::Open; 3];
    check(&reading, "shows open");
    // Shown open, contact good: now it counts.
    reading.contact_shown = Some(ContactShown::LeadsShorted { ohms: 0.3 });
    let got = said(&reading, &spec);
    assert_eq!((got.verdict, got.open), (Some(Verdict::OutOfSpec), true));
    assert_eq!(got.probability, Some(0.0));
    // Leads above the part: something is wrong with the zero.
    let mut reading = winding(&[0.1, 0.1, 0.1], 20.0);
    reading.leads = leads(5.0);
    check(&reading, "leads read more than the part");
}

#[test]
fn what_was_not_measured_widens_the_answer() {
    let spec = ohms(5.0, 5.6);
    let with = winding(&[5.6, 5.6, 5.6], 20.0);
    let mut without = with.clone();
    without.leads = Leads::Unread;
    let (a, b) = (said(&with, &spec), said(&without, &spec));
    assert!(b.u.unwrap() > a.u.unwrap());
    assert_eq!(b.verdict, Some(Verdict::TooCloseToCall));
    assert!(b.ask.unwrap().contains("Hold the probes together"));
    let mut cold = with.clone();
    cold.part_temp = None;
    let got = said(&cold, &spec);
    assert!(got.u.unwrap() > a.u.unwrap());
    assert!(got.ask.unwrap().contains("Enter the part's temperature"));
}

#[test]
fn voltage_and_frequency_take_no_leads_and_no_copper() {
    let reading = Reading {
        quantity: Quantity::Voltage,
        samples: looks(&[4.98, 4.98, 4.99], 0.01),
        leads: Leads::Unread,
        part_temp: None,
        conductor: Conductor::Other,
        meter: Meter {
            accuracy: Accuracy {
                percent: 0.5,
                counts: 2.0,
            },
            resolution: None,
        },
        contact_shown: None,
    };
    let spec = Spec {
        quantity: Quantity::Voltage,
        low: Some(4.5),
        high: Some(5.5),
        at_temp_c: None,
        source: "invented".into(),
    };
    let got = said(&reading, &spec);
    assert_eq!(got.verdict, Some(Verdict::InSpec));
    assert_eq!(got.corrected_value, None);
    assert!(matches!(
        judge(&reading, &ohms(1.0, 2.0), Guard::default()),
        Err(JudgeError::OtherQuantity { .. })
    ));
}

#[test]
fn what_cannot_be_is_asked_back() {
    let good = winding(&[13.2, 13.2, 13.2], 20.0);
    let spec = ohms(11.0, 15.0);
    let check = |reading: &Reading, spec: &Spec, guard: Guard, says: &str| {
        let error = judge(reading, spec, guard).unwrap_err().to_string();
        assert!(error.contains(says), "{error}");
    };
    let guard = Guard::default();
    check(&good, &ohms(15.0, 11.0), guard, "swapped");
    check(&good, &ohms(-1.0, 11.0), guard, "can't be");
    check(&good, &ohms(f64::NAN, 11.0), guard, "can't be");
    check(
        &good,
        &Spec {
            low: None,
            high: None,
            ..spec.clone()
        },
        guard,
        "no limit",
    );
    check(
        &good,
        &Spec {
            source: " ".into(),
            ..spec.clone()
        },
        guard,
        "where the spec was read",
    );
    check(
        &good,
        &Spec {
            at_temp_c: Some(2000.0),
            ..spec.clone()
        },
        guard,
        "2000 °C",
    );
    check(&winding(&[13.2, 13.2, 13.2], 400.0), &spec, guard, "400 °C");
    check(
        &winding(&[-13.2, 13.2, 13.2], 20.0),
        &spec,
        guard,
        "not a number the meter can show",
    );
    check(
        &Reading {
            leads: leads(-0.1),
            ..good.clone()
        },
        &spec,
        guard,
        "zero",
    );
    check(&good, &spec, Guard { level: 1.0 }, "0.95 is usual");
}

/// The place is told where the meter alone leaves nothing between the limits, and only
/// there: half width 0.2 V and digits of 0.1 V at two counts give u = 0.115 V (GUM 4.3.7), with
/// which the middle of limits 0.4 V apart reaches 92 % (normal distribution, by hand).
#[test]
fn a_place_is_told_for_the_meter_alone() {
    let volts = |at: f64, [low, high]: [f64; 2], spread: f64| {
        let reading = Reading {
            quantity: Quantity::Voltage,
            samples: looks(&[at - spread, at, at + spread], 0.1),
            leads: Leads::Unread,
            part_temp: None,
            conductor: Conductor::Other,
            meter: Meter {
                accuracy: Accuracy {
                    percent: 0.0,
                    counts: 2.0,
                },
                resolution: None,
            },
            contact_shown: None,
        };
        let spec = Spec {
            quantity: Quantity::Voltage,
            low: Some(low),
            high: Some(high),
            at_temp_c: None,
            source: "invented".into(),
        };
        said(&reading, &spec)
    };
    let short_of_it = volts(12.0, [11.8, 12.2], 0.0);
    assert_eq!(short_of_it.accepted, None, "{short_of_it:?}");
    let place = short_of_it.place.unwrap();
    assert_eq!(place, "in the middle; this meter tells only ± 0.24 V here");
    assert!(short_of_it.words.contains(&place), "{}", short_of_it.words);
    assert!(!short_of_it.words.contains('%'), "{}", short_of_it.words);
    // 95 % is reached in the middle of 0.5 V: then it is the reading that is too close.
    let close = volts(12.15, [11.75, 12.25], 0.0);
    assert_eq!(close.verdict, Some(Verdict::TooCloseToCall));
    assert_eq!(close.place, None, "{}", close.words);
    // The meter would do here; the readings' own spread does not.
    let spread = volts(12.0, [11.7, 12.3], 0.15);
    assert_eq!(
        spread.verdict,
        Some(Verdict::TooCloseToCall),
        "{}",
        spread.words
    );
    assert_eq!(spread.place, None, "{}", spread.words);
    assert_eq!(volts(14.0, [11.8, 12.2], 0.0).place, None, "far out is out");
}

/// A meter with digits of 0.1 ohm and a perfect part of 5.3 ohm: its zero, which is
/// in the leads' reading too, may not keep it from ever being in spec.
#[test]
fn the_meters_zero_cancels_on_one_range() {
    let spec = ohms(5.0, 5.6);
    let perfect = winding(&[5.6, 5.6, 5.6], 20.0);
    let got = said(&perfect, &spec);
    assert_eq!(got.verdict, Some(Verdict::InSpec), "{}", got.words);
    assert!(got.steps.iter().any(|s| s.contains("correlation 1")));
    // On another range nothing cancels.
    let coarse = Reading {
        leads: Leads::Read {
            ohms: 0.3,
            resolution: Some(0.01),
        },
        ..perfect
    };
    let other = said(&coarse, &spec);
    assert!(other.u.unwrap() > 2.0 * got.u.unwrap());
    assert!(other.steps.iter().any(|s| s.contains("correlation 0")));
}

#[test]
fn a_reading_without_limits_is_a_number() {
    let got = read_without_limits(&winding(&[13.2, 13.3, 13.2], 20.0)).unwrap();
    assert_eq!((got.verdict, got.open), (None, false));
    assert!((got.value.unwrap() - 12.933333).abs() < 1e-5);
    assert!(got.words.contains("(k = 2)"), "{}", got.words);
    let mut reading = winding(&[], 20.0);
    reading.samples = vec![Sample::Open; 3];
    reading.contact_shown = Some(ContactShown::Ticked);
    let got = read_without_limits(&reading).unwrap();
    assert_eq!((got.verdict, got.open), (None, true));
}

/// One coverage factor in every sentence, and it is said.
#[test]
fn an_uncertainty_is_shown_with_k_2() {
    let got = said(&winding(&[13.2, 13.3, 13.2], 20.0), &ohms(11.0, 15.0));
    assert!(got.words.contains("(k = 2)"), "{}", got.words);
    for text in got.steps.iter().chain([&got.words]) {
        assert!(!text.contains("k = 1") && !text.contains("95 %)"), "{text}");
    }
}

#[test]
fn a_judgement_crosses_the_door_and_back() {
    let got = said(&winding(&[13.3, 13.3, 13.3], 20.0), &ohms(11.0, 15.0));
    let json = serde_json::to_string(&got).unwrap();
    assert!(json.contains(r#""verdict":"in_spec""#), "{json}");
    assert!(json.contains(r#""contact":{"kind":"steady""#), "{json}");
    assert_eq!(serde_json::from_str::<Judgement>(&json).unwrap(), got);
}

proptest! {
    #[test]
    fn a_verdict_needs_steady_contact(
        values in prop::collection::vec(0.1f64..60.0, 0..6), opens in 0usize..4,
    ) {
        let mut reading = winding(&values, 20.0);
        reading.samples.extend(vec![Sample::Open; opens]);
        let got = said(&reading, &ohms(11.0, 15.0));
        let steady = matches!(got.contact, Contact::Steady { .. });
        prop_assert!(got.verdict.is_none() || steady);
        prop_assert!(got.verdict.is_some() || got.ask.is_some());
    }

    #[test]
    fn the_step_words_never_run_dry(value in 0.5f64..60.0, celsius in -20.0f64..100.0) {
        let got = said(&winding(&[value; 3], celsius), &ohms(11.0, 15.0));
        let p = got.probability.unwrap();
        prop_assert!((0.0..=1.0).contains(&p));
        prop_assert!(got.steps.len() >= 4);
        prop_assert!(got.verdict != Some(Verdict::TooCloseToCall) || got.ask.is_some());
    }
}

/// Without ts-rs's feature `serde-compat` the tag would be missing.
#[test]
fn the_typescript_is_what_the_json_is() {
    let inline = <Contact as ts_rs::TS>::inline(&ts_rs::Config::default());
    assert!(inline.contains(r#""kind": "too_few""#), "{inline}");
    assert!(inline.contains("missing: number"), "{inline}");
}
