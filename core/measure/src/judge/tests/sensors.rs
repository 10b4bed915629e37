//! Sensors, and paths to ground.

use super::*;

/// A fluid temperature sensor as read in a maker's manual (name left out): 20 °C
/// 2.441..2.894 kohm, 40 °C 1.193..1.374 kohm.
#[test]
fn a_sensor_against_its_table() {
    let row = |celsius, low_ohms, high_ohms| SensorRow {
        celsius,
        low_ohms,
        high_ohms,
    };
    let spec = SensorSpec {
        data: SensorData::Table {
            rows: vec![row(20.0, 2441.0, 2894.0), row(40.0, 1193.0, 1374.0)],
        },
        source: "invented manual".into(),
    };
    let reading = |value: f64, temp: Option<f64>| Reading {
        samples: looks(&[value, value, value + 1.0], 1.0),
        conductor: Conductor::Other,
        part_temp: temp.map(|celsius| PartTemp {
            celsius,
            half_width_c: Some(1.0),
        }),
        ..winding(&[], 20.0)
    };
    let check = |value, temp, expect| {
        let got = judge_sensor(&reading(value, temp), &spec, Guard::default()).unwrap();
        assert_eq!(got.verdict, expect, "{value}: {}", got.words);
    };
    check(2670.0, Some(20.0), Some(Verdict::InSpec));
    check(1280.0, Some(40.0), Some(Verdict::InSpec));
    check(1280.0, Some(20.0), Some(Verdict::OutOfSpec));
    check(2890.0, Some(20.0), Some(Verdict::TooCloseToCall));
    check(2670.0, None, None);
    assert!(matches!(
        judge_sensor(&reading(2670.0, Some(90.0)), &spec, Guard::default()),
        Err(JudgeError::Sensor(NtcError::OutsideTable { .. }))
    ));
}

#[test]
fn insulation_to_ground() {
    let open = Insulation {
        samples: vec![Sample::Open; 3],
        meter: Grade::Workshop.meter(),
        range_top_ohms: Some(40e6),
        contact_shown: Some(ContactShown::LeadsShorted { ohms: 0.2 }),
    };
    let check = |insulation: &Insulation, minimum, expect, asks: &str| {
        let least = Some((minimum, "invented"));
        let got = judge_insulation(insulation, least, Guard::default()).unwrap();
        assert_eq!(got.verdict, expect, "{}", got.words);
        assert!(got.ask.unwrap_or_default().contains(asks));
    };
    check(&open, 10e6, Some(Verdict::InSpec), "");
    check(&open, 100e6, None, "insulation tester");
    check(
        &Insulation {
            range_top_ohms: None,
            ..open.clone()
        },
        10e6,
        None,
        "most the meter can show",
    );
    // Open is the hoped-for answer: without shown contact it is worth nothing.
    check(
        &Insulation {
            contact_shown: None,
            ..open.clone()
        },
        10e6,
        None,
        "Hold the probes together",
    );
    let leaking = Insulation {
        samples: looks(&[120.0, 121.0, 120.0], 1.0),
        ..open.clone()
    };
    check(&leaking, 10e6, Some(Verdict::OutOfSpec), "");
    let good = Insulation {
        samples: looks(&[21.4e6, 21.4e6, 21.5e6], 1e5),
        ..open
    };
    check(&good, 10e6, Some(Verdict::InSpec), "");
}

/// The two figures of the trade, whatever was entered: no path is good, less than
/// about 1 kohm is a short (common practice, no published source).
#[test]
fn ground_without_limits() {
    let ground = |samples: Vec<Sample>, contact: bool| Insulation {
        samples,
        meter: Grade::Workshop.meter(),
        range_top_ohms: None,
        contact_shown: contact.then_some(ContactShown::Ticked),
    };
    let said = |samples: Vec<Sample>, minimum: Option<(f64, &str)>| {
        judge_insulation(&ground(samples, true), minimum, Guard::default()).unwrap()
    };
    let open = said(vec![Sample::Open; 3], None);
    assert_eq!((open.verdict, open.open), (Some(Verdict::InSpec), true));
    let far = vec![Sample::Above { value: 550e6 }; 3];
    assert!(said(far.clone(), None).words.contains("more than 550 Mohm"));
    // What the samples are above is the top of the range.
    assert_eq!(
        said(far, Some((10e6, "invented"))).verdict,
        Some(Verdict::InSpec)
    );
    for minimum in [None, Some((1.0, "invented")), Some((10e6, "invented"))] {
        let short = said(looks(&[12.4, 12.4, 12.5], 0.1), minimum);
        assert_eq!(short.verdict, Some(Verdict::OutOfSpec), "{minimum:?}");
        assert!(
            short.short && short.words.contains("SHORT"),
            "{}",
            short.words
        );
        let almost = said(looks(&[980.0, 981.0, 980.0], 1.0), minimum);
        assert!(almost.short, "{}", almost.words);
    }
    let between = said(looks(&[21.4e3, 21.4e3, 21.5e3], 1e2), None);
    assert_eq!((between.verdict, between.short), (None, false));
    assert!((between.value.unwrap() - 21433.3).abs() < 1.0);
    // Nothing is believed before contact was shown.
    let unproven = ground(vec![Sample::Open; 3], false);
    let got = judge_insulation(&unproven, None, Guard::default()).unwrap();
    assert_eq!((got.verdict, got.open), (None, false));
    assert!(got.ask.is_some());
}
