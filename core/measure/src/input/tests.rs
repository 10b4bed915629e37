use super::*;
use proptest::prelude::*;

fn number(typed: &str, quantity: Quantity) -> (f64, f64, u32) {
    match parse(typed, quantity) {
        Ok(Entered {
            value:
                EnteredValue::Number {
                    value,
                    resolution,
                    significant_digits,
                    ..
                },
            ..
        }) => (value, resolution, significant_digits),
        other => panic!("{typed:?} gave {other:?}"),
    }
}

#[test]
fn numbers_as_they_are_typed() {
    use Quantity::*;
    let check = |typed: &str, quantity, value: f64, resolution: f64, digits: u32| {
        let got = number(typed, quantity);
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1.0);
        assert!(
            close(got.0, value) && close(got.1, resolution) && got.2 == digits,
            "{typed:?} gave {got:?}"
        );
    };
    check("12.4", Resistance, 12.4, 0.1, 3);
    check("12,4", Resistance, 12.4, 0.1, 3);
    check(" 12.40 ", Resistance, 12.4, 0.01, 4);
    check("31 ohm", Resistance, 31.0, 1.0, 2);
    check("31Ω", Resistance, 31.0, 1.0, 2);
    check("12,5 kΩ", Resistance, 12500.0, 100.0, 3);
    check("12.5 k\u{2126}", Resistance, 12500.0, 100.0, 3);
    check("0.4k", Resistance, 400.0, 100.0, 1);
    check("0,400 kohm", Resistance, 400.0, 1.0, 3);
    check("2.2M", Resistance, 2.2e6, 1e5, 2);
    check("2.2 Mohm", Resistance, 2.2e6, 1e5, 2);
    check("220 mohm", Resistance, 0.22, 0.001, 3);
    check("0.3", Resistance, 0.3, 0.1, 1);
    check(".3", Resistance, 0.3, 0.1, 1);
    check("+5", Resistance, 5.0, 1.0, 1);
    check("0", Resistance, 0.0, 1.0, 1);
    check("1,234.5", Resistance, 1234.5, 0.1, 5);
    check("1.234,5", Resistance, 1234.5, 0.1, 5);
    check("1,234,500", Resistance, 1_234_500.0, 1.0, 7);
    check("0,125", Resistance, 0.125, 0.001, 3);
    check("12.500", Resistance, 12.5, 0.001, 5);
    check("84 200 km", Distance, 84200.0, 1.0, 5);
    check("84\u{a0}200", Distance, 84200.0, 1.0, 5);
    check("1000 mi", Distance, 1609.344, 1.609344, 4);
    check("-20 °C", Temperature, -20.0, 1.0, 2);
    check("−20", Temperature, -20.0, 1.0, 2);
    check("68 F", Temperature, 20.0, 5.0 / 9.0, 2);
    check("68°F", Temperature, 20.0, 5.0 / 9.0, 2);
    check("80°", Temperature, 80.0, 1.0, 2);
    check("10 N·m", Torque, 10.0, 1.0, 2);
    check("10 Nm", Torque, 10.0, 1.0, 2);
    check("7.4 lb-ft", Torque, 10.033052817652, 0.13558179483314, 2);
    check("7.4 ft.lb", Torque, 10.033052817652, 0.13558179483314, 2);
    check("89 lb-in", Torque, 10.0556497834579, 0.1129848290276167, 2);
    check("5.0 l", Volume, 5.0, 0.1, 2);
    check("5.0 L", Volume, 5.0, 0.1, 2);
    check("0L", Volume, 0.0, 1.0, 1);
    check("5 qt", Volume, 4.73176473, 0.946352946, 1);
    check("2 imp pt", Volume, 1.1365225, 0.56826125, 1);
    check("-0.2 V", Voltage, -0.2, 0.1, 1);
    check("1.2 kHz", Frequency, 1200.0, 100.0, 2);
    check(
        "1/2\"".replace("1/2", "0.5").as_str(),
        Length,
        12.7,
        2.54,
        1,
    );
}

/// Spellings that a workshop meets: IEC 60062 marks, thousands on a clock, a
/// jug's half, units by their words (common practice, no published source).
#[test]
fn numbers_as_the_trade_writes_them() {
    use Quantity::*;
    let check = |typed: &str, quantity, value: f64, resolution: f64| {
        let got = number(typed, quantity);
        let close = |a: f64, b: f64| (a - b).abs() <= 1e-9 * b.abs().max(1.0);
        assert!(
            close(got.0, value) && close(got.1, resolution),
            "{typed:?} gave {got:?}"
        );
    };
    check("4k7", Resistance, 4700.0, 100.0);
    check("5R6", Resistance, 5.6, 0.1);
    check("5r6 Ω", Resistance, 5.6, 0.1);
    check("2M2", Resistance, 2.2e6, 1e5);
    check("R47", Resistance, 0.47, 0.01);
    check("150k", Distance, 150_000.0, 1000.0);
    check("150 k mi", Distance, 241_401.6, 1609.344);
    check("93 tkm", Distance, 93_000.0, 1000.0);
    check("84,200 mi", Distance, 84_200.0 * 1.609344, 1.609344);
    check("4½", Volume, 4.5, 0.5);
    check("4½ l", Volume, 4.5, 0.5);
    check("½ l", Volume, 0.5, 0.5);
    check("4 1/2 qt", Volume, 4.5 * 0.946352946, 0.5 * 0.946352946);
    check("3/8 in", Length, 9.525, 25.4 / 8.0);
    check("5 pt", Volume, 2.365882365, 0.473176473);
    check("900 Ncm", Torque, 9.0, 0.01);
    check(
        "106 inch pounds",
        Torque,
        106.0 * 0.1129848290276167,
        0.1129848290276167,
    );
    check(
        "8 foot-pounds",
        Torque,
        8.0 * 1.3558179483314004,
        1.3558179483314004,
    );
    check("0.9 A", Current, 0.9, 0.1);
    check("900 mA", Current, 0.9, 0.001);
    check("0.9 amps", Current, 0.9, 0.1);
    check("45 %", DutyCycle, 45.0, 1.0);
    check("45 per cent", DutyCycle, 45.0, 1.0);
    check("0 F", Temperature, -160.0 / 9.0, 5.0 / 9.0);
    assert_eq!(parse_bare("4 %"), Ok(4.0));
    assert_eq!(parse_bare("90°"), Ok(90.0));
    let imperial = parse_in("5 pt", Volume, Unit::ImperialQuart).unwrap();
    assert!((imperial.number().unwrap() - 5.0 * 0.56826125).abs() < 1e-9);
    let clock = parse_in("84,200", Distance, Unit::Mile).unwrap();
    assert!((clock.number().unwrap() - 84_200.0 * 1.609344).abs() < 1e-6);
}

#[test]
fn a_tester_tells_how_far_it_can_see() {
    for (typed, top) in [(">40M", 40e6), (">550 MΩ", 550e6), ("> 2.2 Gohm", 2.2e9)] {
        let entered = parse(typed, Quantity::Resistance).unwrap();
        assert_eq!(entered.value, EnteredValue::Above { value: top }, "{typed}");
        assert_eq!((entered.number(), entered.top()), (None, Some(top)));
    }
    assert!(parse(">40 V", Quantity::Voltage).is_err());
    assert!(parse(">", Quantity::Resistance).is_err());
}

#[test]
fn open_as_meters_show_it() {
    for typed in [
        "OL", "O.L", "O.L.", "0L", "0.L", "ol", "open", "Open", "∞", "OL kΩ", "OL Mohm", "0.L M",
        "O.F", "OFL", "O.F.", "0F",
    ] {
        let entered = parse(typed, Quantity::Resistance).unwrap();
        assert_eq!(entered.value, EnteredValue::Open, "{typed}");
        assert_eq!(entered.text, typed);
        assert_eq!(entered.number(), None);
    }
}

#[test]
fn what_is_no_value_is_asked_back_with_the_reason() {
    use Quantity::*;
    let check = |typed: &str, quantity, says: &str| match parse(typed, quantity) {
        Err(e) => assert!(e.to_string().contains(says), "{typed:?} said {e}"),
        Ok(v) => panic!("{typed:?} was taken as {v:?}"),
    };
    check("", Resistance, "Nothing was entered");
    check("   ", Resistance, "Nothing was entered");
    check("-3", Resistance, "below zero");
    check("-3 ohm", Resistance, "clear the zero");
    check("-1 l", Volume, "below zero");
    check("abc", Resistance, "is not a resistance");
    check("12.4.5", Resistance, "is not a resistance");
    check("1..2", Resistance, "is not a resistance");
    check("1,23,4", Resistance, "is not a resistance");
    check("84 20", Distance, "is not a distance");
    check("--3", Temperature, "is not a temperature");
    check("12 V", Resistance, "which is a voltage");
    check("12 ohm", Volume, "which is a resistance");
    check("12 parsec", Distance, "is not known for a distance");
    check("12 kHz", Voltage, "which is a frequency");
    check("2.2m", Resistance, "small m is milli");
    check("12,500", Resistance, "12.5 or 12500");
    check("84,200", Distance, "84.2 or 84200");
    check("84.200", Distance, "84.2 or 84200");
    check("-300", Temperature, "colder than anything");
    check("-500 F", Temperature, "colder than anything");
    check("OL", Voltage, "Choose a higher range");
    check("1e5", Resistance, "is not known");
    check("NaN", Resistance, "is not a resistance");
    check(&"9".repeat(41), Resistance, "too long");
}

#[test]
fn far_from_the_spec_is_asked_about() {
    let ohm = Quantity::Resistance;
    let high = doubt(12500.0, Some(11.0), Some(15.0), ohm).unwrap();
    assert_eq!(
        high.question,
        "12.5 kohm is 830 times the spec's 15 ohm: is the meter on the kilo range?"
    );
    let low = doubt(0.0124, Some(11.0), Some(15.0), ohm).unwrap();
    assert_eq!(
        low.question,
        "0.0124 ohm is only 1/890 of the spec's 11 ohm: did the meter show kilo or mega?"
    );
    for (value, low, high) in [
        (12.4, Some(11.0), Some(15.0)),
        (700.0, Some(11.0), Some(15.0)),
        (0.3, Some(11.0), Some(15.0)),
        (1e9, Some(1e6), None),
        (0.0, Some(11.0), Some(15.0)),
    ] {
        assert_eq!(doubt(value, low, high, ohm), None, "{value}");
    }
}

proptest! {
    #[test]
    fn a_number_written_is_the_number_read(
        whole in 0u32..100_000,
        fraction in 0u32..100,
        comma in any::<bool>(),
    ) {
        let mark = if comma { ',' } else { '.' };
        let typed = format!("{whole}{mark}{fraction:02}");
        let (value, resolution, _) = number(&typed, Quantity::Resistance);
        prop_assert!((value - (f64::from(whole) + f64::from(fraction) / 100.0)).abs() < 1e-9);
        prop_assert!((resolution - 0.01).abs() < 1e-12);
    }

    #[test]
    fn anything_typed_is_answered(typed in ".{0,50}") {
        for quantity in [Quantity::Resistance, Quantity::Distance, Quantity::Temperature] {
            if let Ok(entered) = parse(&typed, quantity)
                && let Some(value) = entered.number()
            {
                prop_assert!(value.is_finite());
            }
        }
    }
}
