use super::*;
use proptest::prelude::*;

/// Factors: exact by definition (international yard and pound 1959, standard
/// gravity); figures as printed in NIST SP 811 and, for 10 N·m and the volumes,
/// worked out with exact arithmetic.
#[test]
fn conversions_match_their_definitions() {
    let check = |value: f64, from: Unit, to: Unit, expect: f64, within: f64| {
        let got = to.from_base(from.to_base(value));
        assert!(
            (got - expect).abs() <= within,
            "{value} {} = {got} {}, expected {expect}",
            from.symbol(),
            to.symbol()
        );
    };
    use Unit::*;
    check(1.0, PoundForceFoot, NewtonMetre, 1.3558179483314, 1e-12); // NIST SP 811
    check(1.0, PoundForceInch, NewtonMetre, 0.1129848290276, 1e-12); // NIST SP 811
    check(1.0, KilogramForceMetre, NewtonMetre, 9.80665, 0.0); // standard gravity
    check(10.0, NewtonMetre, PoundForceFoot, 7.37562, 5e-6);
    check(10.0, NewtonMetre, PoundForceInch, 88.50746, 5e-6);
    check(10.0, NewtonMetre, KilogramForceMetre, 1.019716, 5e-7);
    check(12.0, NewtonMetre, PoundForceFoot, 8.85075, 5e-6);
    check(25.0, NewtonMetre, PoundForceInch, 221.26864, 5e-6);
    check(8.0, NewtonMetre, PoundForceInch, 70.80597, 5e-6);
    check(195.0, PoundForceInch, NewtonMetre, 22.03, 5e-3); // TM 1-1520-238-23 6.41
    check(1.0, UsQuart, Litre, 0.946352946, 0.0); // 57.75 in³
    check(1.0, ImperialPint, Litre, 0.56826125, 0.0);
    check(4.0, UsQuart, UsGallon, 1.0, 1e-12);
    check(2.0, ImperialPint, ImperialQuart, 1.0, 1e-12);
    check(212.0, Fahrenheit, Celsius, 100.0, 1e-12);
    check(-40.0, Fahrenheit, Celsius, -40.0, 1e-12);
    check(0.0, Celsius, Fahrenheit, 32.0, 1e-12);
    check(100.0, Mile, Kilometre, 160.9344, 1e-12);
    check(1.0, Inch, Millimetre, 25.4, 0.0);
    check(8.0, UsPint, UsGallon, 1.0, 1e-12);
    check(1000.0, NewtonCentimetre, NewtonMetre, 10.0, 1e-12);
    check(250.0, Milliampere, Ampere, 0.25, 1e-15);
}

#[test]
fn every_unit_is_found_by_its_symbol() {
    for unit in Unit::all() {
        assert!(
            Unit::spelled(unit.symbol()).contains(&unit),
            "{} is not found by its own symbol",
            unit.symbol()
        );
    }
    for quantity in Quantity::ALL {
        assert_eq!(quantity.base().quantity(), quantity);
        assert_eq!(quantity.base().to_base(1.25), 1.25);
    }
}

#[test]
fn a_newtype_takes_only_its_own_units() {
    assert_eq!(Ohms::from_unit(0.4, Unit::Kiloohm), Some(Ohms(400.0)));
    assert_eq!(Ohms::from_unit(0.4, Unit::Volt), None);
    assert_eq!(NewtonMetres(10.0).in_unit(Unit::Litre), None);
    assert_eq!(Ohms(12.5).to_string(), "12.5 ohm");
}

#[test]
fn numbers_read_well() {
    for (value, expect) in [
        (0.0, "0"),
        (12.5, "12.5"),
        (12.34567, "12.35"),
        (0.000123456, "0.0001235"),
        (12500.0, "12500"),
        (-3.0, "-3"),
    ] {
        assert_eq!(show_number(value), expect);
    }
    assert_eq!(show(12500.0, Quantity::Resistance), "12.5 kohm");
    assert_eq!(show(10.0, Quantity::Torque), "10 N·m");
    assert_eq!(show_range(11.0, 15.0, Quantity::Resistance), "11 to 15 ohm");
    assert_eq!(
        show_range(441.0, 2894.0, Quantity::Resistance),
        "0.441 to 2.894 kohm"
    );
}

proptest! {
    #[test]
    fn there_and_back(value in -1e6f64..1e6) {
        for unit in Unit::all() {
            let back = unit.from_base(unit.to_base(value));
            prop_assert!((back - value).abs() <= 1e-9 * value.abs().max(1.0));
        }
    }
}

/// GUM 7.2.6 (from memory): two significant digits of the uncertainty at most,
/// the value to the same place; "it may sometimes be appropriate to round
/// uncertainties up", so that what is shown covers what was worked out.
#[test]
fn an_uncertainty_has_two_digits_and_the_value_as_many_places() {
    for (value, u, shown) in [
        (12.8, 1.539, "12.8 ± 1.6 ohm"),
        (12.674, 0.4646, "12.67 ± 0.47 ohm"),
        (37.8, 0.0996, "37.80 ± 0.10 ohm"),
        (12_500.0, 130.0, "12.50 ± 0.13 kohm"),
        (5.0, 23.0, "5 ± 23 ohm"),
        (5.0, 0.0, "5 ohm"),
    ] {
        assert_eq!(super::show_pm(value, u, Quantity::Resistance), shown);
    }
}

proptest! {
    #[test]
    fn what_is_shown_covers_what_was_worked_out(value in -500f64..500.0, u in 1e-4f64..90.0) {
        let text = show_pm(value, u, Quantity::Voltage);
        let numbers: Vec<f64> = text
            .trim_end_matches(" V")
            .split(" ± ")
            .map(|n| n.parse().unwrap())
            .collect();
        let (shown, of) = (numbers[0], numbers[1]);
        let slack = 2e-6 * of.max(1e-3);
        prop_assert!(shown - of <= value - u + slack, "{text} of {value} {u}");
        prop_assert!(shown + of >= value + u - slack, "{text} of {value} {u}");
        prop_assert!(of <= 1.2 * u + 1e-6, "{text} of {value} {u}");
        let [low, high] = outwards(value - u, value + u, 1);
        prop_assert!(low <= value - u + 1e-6 && high >= value + u - 1e-6);
    }
}
