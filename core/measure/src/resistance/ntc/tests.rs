use super::*;
use proptest::prelude::*;

/// A fluid temperature sensor as read in a maker's manual (name left out), kohm.
const ROWS: [(f64, f64, f64); 9] = [
    (-20.0, 13.47, 17.17),
    (0.0, 5.445, 6.678),
    (20.0, 2.441, 2.894),
    (40.0, 1.193, 1.374),
    (60.0, 0.6284, 0.7048),
    (80.0, 0.3527, 0.3865),
    (100.0, 0.2091, 0.2245),
    (120.0, 0.1301, 0.1372),
    (130.0, 0.1044, 0.1090),
];

fn rows(rows: &[(f64, f64, f64)]) -> SensorData {
    SensorData::Table {
        rows: rows
            .iter()
            .map(|(celsius, low, high)| SensorRow {
                celsius: *celsius,
                low_ohms: low * 1000.0,
                high_ohms: high * 1000.0,
            })
            .collect(),
    }
}

fn middle(ntc: &Ntc, celsius: f64) -> f64 {
    let Limits {
        low: Some(low),
        high: Some(high),
    } = ntc.limits_at(celsius).unwrap()
    else {
        panic!("no limits")
    };
    0.5 * (low + high)
}

/// B between middle values of that table, worked with Python (numpy).
#[test]
fn b_values_of_the_table() {
    let mid = |t: f64| {
        let (_, low, high) = ROWS.iter().find(|r| r.0 == t).unwrap();
        0.5 * (low + high)
    };
    for (a, b, expect) in [
        (20.0, 100.0, 3431.97),
        (40.0, 80.0, 3441.87),
        (-20.0, 130.0, 3379.39),
    ] {
        assert!((b_value(mid(a), a, mid(b), b) - expect).abs() < 0.01);
    }
}

/// Steinhart-Hart through -20, 60 and 130 °C of the same table, worked with
/// Python: A 1.21155709e-3, B 2.67886205e-4, C 1.75504882e-7. Between rows ours
/// must agree within 0.5 K.
#[test]
fn between_rows_it_agrees_with_steinhart_hart() {
    let ntc = Ntc::new(rows(&ROWS)).unwrap();
    for t in [-10.0, 10.0, 25.0, 30.0, 50.0, 70.0, 90.0, 110.0, 125.0] {
        let ln = middle(&ntc, t).ln();
        let kelvin = 1.0 / (1.21155709e-3 + 2.67886205e-4 * ln + 1.75504882e-7 * ln.powi(3));
        assert!(
            (kelvin - 273.15 - t).abs() < 0.5,
            "at {t} °C the curve says {} °C",
            kelvin - 273.15
        );
    }
}

#[test]
fn at_its_rows_it_gives_the_table() {
    let ntc = Ntc::new(rows(&ROWS)).unwrap();
    for (t, low, high) in ROWS {
        let limits = ntc.limits_at(t).unwrap();
        assert!((limits.low.unwrap() - low * 1000.0).abs() < 1e-6 * low * 1000.0);
        assert!((limits.high.unwrap() - high * 1000.0).abs() < 1e-6 * high * 1000.0);
    }
    assert!(matches!(
        ntc.limits_at(140.0),
        Err(NtcError::OutsideTable { .. })
    ));
    assert!(matches!(
        ntc.limits_at(400.0),
        Err(NtcError::Impossible { .. })
    ));
}

/// IEC 60539 style B law; 10 kohm at 25 °C, B 3435 K at 85 °C worked with Python.
#[test]
fn by_b_value() {
    let ntc = Ntc::new(SensorData::BValue {
        ohms: 10_000.0,
        reference_c: 25.0,
        b_kelvin: 3435.0,
        tolerance_percent: 5.0,
    })
    .unwrap();
    let expect = 10_000.0 * (3435.0f64 * (1.0 / 358.15 - 1.0 / 298.15)).exp();
    assert!((middle(&ntc, 85.0) - expect).abs() < 1e-6);
    assert!((middle(&ntc, 85.0) - 1450.8).abs() < 1.0);
    let limits = ntc.limits_at(25.0).unwrap();
    assert!((limits.low.unwrap() - 9500.0).abs() < 1e-9);
    assert!((limits.high.unwrap() - 10500.0).abs() < 1e-9);
}

/// The slips seen in a copied manual: a digit lost, limits swapped.
#[test]
fn a_table_with_a_slip_is_asked_back() {
    let lost_digit = rows(&[(-30.0, 3.590, 5.210), (-20.0, 13.47, 17.17)]);
    assert!(matches!(
        Ntc::new(lost_digit),
        Err(NtcError::NotFalling { .. })
    ));
    let swapped = rows(&[(100.0, 0.2091, 0.2245), (110.0, 0.223, 0.071)]);
    assert!(matches!(Ntc::new(swapped), Err(NtcError::Swapped { .. })));
    assert!(matches!(
        Ntc::new(rows(&[(20.0, 2.4, 2.9)])),
        Err(NtcError::TooShort)
    ));
    assert!(matches!(
        Ntc::new(rows(&[(40.0, 1.193, 1.374), (20.0, 2.441, 2.894)])),
        Err(NtcError::NotRising { .. })
    ));
    assert!(matches!(
        Ntc::new(rows(&[(20.0, 0.0, 2.9), (40.0, 1.1, 1.3)])),
        Err(NtcError::NotPositive { .. })
    ));
}

proptest! {
    #[test]
    fn it_always_falls(t in -20.0f64..129.0, more in 0.01f64..1.0) {
        let ntc = Ntc::new(rows(&ROWS)).unwrap();
        prop_assert!(middle(&ntc, t + more) < middle(&ntc, t));
    }

    #[test]
    fn the_doubt_is_the_slope(t in -19.0f64..129.0) {
        // Within a row, away from its ends.
        let ntc = Ntc::new(rows(&ROWS)).unwrap();
        let r = middle(&ntc, t);
        let slope = (middle(&ntc, t + 0.01) - r).abs() / 0.01;
        let said = ntc.doubt_ohms(r, t, 1.0).unwrap();
        prop_assert!((said - slope).abs() < 0.1 * slope, "{} {}", said, slope);
    }
}
