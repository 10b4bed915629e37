//! Limits that name no temperature.

use super::*;
use crate::meter::Grade;
use Verdict::*;

fn at(ohms: f64, celsius: Option<f64>, conductor: Conductor) -> Reading {
    Reading {
        quantity: Quantity::Resistance,
        samples: vec![
            Sample::Value {
                value: ohms,
                resolution: 0.01,
            };
            3
        ],
        leads: Leads::Read {
            ohms: 0.3,
            resolution: None,
        },
        part_temp: celsius.map(|celsius| PartTemp {
            celsius,
            half_width_c: Some(1.0),
        }),
        conductor,
        meter: Grade::Fine.meter(),
        contact_shown: None,
    }
}

fn said(reading: &Reading, at_temp_c: Option<f64>) -> Judgement {
    let spec = Spec {
        quantity: Quantity::Resistance,
        low: Some(11.0),
        high: Some(15.0),
        at_temp_c,
        source: "invented manual, page 7".into(),
    };
    judge(reading, &spec, Guard::default()).unwrap()
}

/// Ohms at 80 °C and what they are at 20 °C by the 234.5 rule of IEC 60028, with Python:
/// 16.7 are 13.51, 13.7 are 11.09, 12.6 are 10.20, 25.7 are 20.80. As they were read the
/// first would be out of spec and the next two in spec.
#[test]
fn a_hot_winding_is_not_held_against_cold_limits_as_it_was_read() {
    for (ohms, verdict) in [
        (16.7, InSpec),
        (13.7, TooCloseToCall),
        (12.6, TooCloseToCall),
        (25.7, OutOfSpec),
    ] {
        let got = said(&at(ohms + 0.3, Some(80.0), Conductor::Copper), None);
        assert_eq!(got.verdict, Some(verdict), "{ohms}: {}", got.words);
        assert!(
            got.words.contains("at an assumed 20 °C"),
            "{ohms}: {}",
            got.words
        );
        let asked = got.ask.unwrap_or_default();
        let asks = asked.contains("temperature that its limits hold at");
        assert_eq!(asks, verdict == TooCloseToCall, "{ohms}: {asked}");
    }
}

/// A rectangular half width of 10 K is 5.77 K (GUM 4.3.7), and 5.77 K are 5.77 / 254.5 of the
/// resistance at 20 °C (the 234.5 rule, differentiated).
#[test]
fn the_assumed_temperature_is_a_part_of_the_uncertainty_and_is_said() {
    let reading = at(13.3, Some(20.0), Conductor::Copper);
    let (named, assumed) = (said(&reading, Some(20.0)), said(&reading, None));
    let by_limits = 13.0 * 10.0 / 3f64.sqrt() / 254.5;
    let (u, without) = (assumed.u.unwrap(), named.u.unwrap());
    assert!(
        (u - without.hypot(by_limits)).abs() < 1e-9,
        "{u} {without} {by_limits}"
    );
    let says = |step: &String| {
        step.contains("name no temperature") && step.contains("20 °C ± 10 K assumed (our own")
    };
    assert!(assumed.steps.iter().any(says), "{:?}", assumed.steps);
    assert!(!named.steps.iter().any(says), "{:?}", named.steps);
}

/// 14.9 ohm at 20 °C is in spec by 0.1 ohm; 10 K of the limits are 0.59 ohm.
#[test]
fn near_a_limit_it_is_too_close_to_call_and_both_temperatures_are_asked_for() {
    let reading = at(15.2, Some(20.0), Conductor::Copper);
    assert_eq!(said(&reading, None).verdict, Some(TooCloseToCall));
    let neither = said(&at(15.2, None, Conductor::Copper), None);
    assert_eq!(neither.verdict, Some(TooCloseToCall));
    let asked = neither.ask.unwrap();
    assert!(
        asked.contains("part's temperature") && asked.contains("its limits hold at"),
        "{asked}"
    );
}

#[test]
fn a_temperature_sensor_gets_no_verdict_from_limits_without_a_temperature() {
    let got = said(&at(13.3, Some(20.0), Conductor::Thermistor), None);
    assert_eq!(got.verdict, None, "{}", got.words);
    let asked = got.ask.unwrap();
    assert!(
        asked.contains("temperature that its limits hold at"),
        "{asked}"
    );
}

#[test]
fn what_is_no_winding_is_compared_as_it_was_read() {
    let got = said(&at(13.3, Some(80.0), Conductor::Other), None);
    assert_eq!(got.verdict, Some(InSpec));
    assert!(!got.words.contains("assumed"), "{}", got.words);
}
