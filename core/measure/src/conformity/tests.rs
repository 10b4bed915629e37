use super::*;
use proptest::prelude::*;

fn limits(low: Option<f64>, high: Option<f64>) -> Limits {
    Limits { low, high }
}

/// Worked examples of JCGM 106:2012 (numbers from memory; each gives the
/// answer printed in the guide).
#[test]
fn examples_of_jcgm_106() {
    let check = |y: f64, u: f64, low, high, printed: f64, exact: f64| {
        let p = probability(y, u, limits(low, high));
        assert!((p - printed).abs() < 0.005, "{p}, printed {printed}");
        assert!((p - exact).abs() < 1e-6, "{p}, scipy {exact}");
    };
    // Breakdown voltage of a Zener diode, upper limit -5.40 V.
    check(-5.47, 0.05, None, Some(-5.40), 0.92, 0.919243);
    // Burst pressure of a container, lower limit 490 kPa.
    check(509.7, 8.6, Some(490.0), None, 0.99, 0.989010);
    // Kinematic viscosity of an SAE 40 oil, 12.5 to 16.3 mm²/s.
    check(13.6, 1.8, Some(12.5), Some(16.3), 0.66, 0.662630);
}

/// Speed limit, JCGM 106: 100 km/h, relative uncertainty 2 %, 99.9 % sure:
/// action above 107 km/h (from memory). v - k 0.02 v = 100.
#[test]
fn the_speed_limit_of_jcgm_106() {
    let k = normal::quantile(0.999);
    assert!((k - 3.0902).abs() < 5e-5);
    let speed = 100.0 / (1.0 - 0.02 * k);
    assert!((speed - 106.588).abs() < 1e-3, "{speed}");
    let p = probability(speed, 0.02 * speed, limits(None, Some(100.0)));
    assert!((p - 0.001).abs() < 1e-6);
}

/// scipy.stats.norm 1.17, limits 5.0 to 6.0.
#[test]
fn probabilities_match_scipy() {
    let check = |y: f64, u: f64, expect: f64| {
        let p = probability(y, u, limits(Some(5.0), Some(6.0)));
        assert!(
            (p - expect).abs() < 1e-6,
            "({y}, {u}): {p}, expected {expect}"
        );
    };
    check(5.5, 0.1, 0.999999);
    check(5.1, 0.1, 0.841345);
    check(5.0, 0.1, 0.5);
    check(4.9, 0.1, 0.158655);
    check(5.16449, 0.1, 0.950005);
    check(6.2, 0.1, 0.022750);
    check(5.5, 0.4, 0.788700);
    check(5.5, 0.0, 1.0);
    check(6.1, 0.0, 0.0);
}

/// Student and normal tables: one-sided shares of k.
#[test]
fn quantiles_match_the_tables() {
    for (k, share) in [
        (1.0, 0.8413),
        (1.6449, 0.95),
        (1.96, 0.975),
        (2.0, 0.9772),
        (3.0, 0.99865),
    ] {
        assert!((normal::cdf(k) - share).abs() < 5e-5);
        assert!((normal::quantile(normal::cdf(k)) - k).abs() < 1e-9);
    }
    assert!((normal::quantile(0.75) - 0.6744898).abs() < 1e-7);
    assert!(normal::quantile(0.5).abs() < 1e-12);
}

#[test]
fn the_guard_decides_what_may_be_said() {
    use Verdict::*;
    let guard = Guard::default();
    for (p, expect) in [
        (1.0, InSpec),
        (0.95, InSpec),
        (0.9, TooCloseToCall),
        (0.06, TooCloseToCall),
        (0.05, OutOfSpec),
        (0.0, OutOfSpec),
    ] {
        assert_eq!(verdict(p, guard), expect, "{p}");
    }
    // No guard band: one or the other, always.
    assert_eq!(verdict(0.51, Guard { level: 0.5 }), InSpec);
    assert_eq!(verdict(0.49, Guard { level: 0.5 }), OutOfSpec);
    for level in [0.49, 1.0, f64::NAN, -1.0] {
        assert!(Guard { level }.check().is_err());
    }
}

#[test]
fn the_guard_band_narrows_the_limits() {
    let spec = limits(Some(5.0), Some(6.0));
    let inner = spec.accepted(0.1, Guard::default()).unwrap();
    assert!((inner.low.unwrap() - 5.16449).abs() < 1e-4);
    assert!((inner.high.unwrap() - 5.83551).abs() < 1e-4);
    assert_eq!(spec.accepted(0.4, Guard::default()), None);
    // Without uncertainty, and without a guard, the limits themselves.
    assert_eq!(spec.accepted(0.0, Guard::default()), Some(spec));
    let no_guard = spec.accepted(0.01, Guard { level: 0.5 }).unwrap();
    assert!((no_guard.low.unwrap() - 5.0).abs() < 1e-9);
    let least = limits(Some(5.0), None).accepted(0.1, Guard::default());
    assert!((least.unwrap().low.unwrap() - 5.16449).abs() < 1e-4);
}

proptest! {
    /// What is told as accepted is what is called in spec, near limits included.
    #[test]
    fn in_spec_is_said_just_between_the_values_that_are_accepted(
        width in 0.1f64..10.0, u in 0.01f64..3.0, level in 0.5f64..0.999, at in -0.2f64..1.2,
    ) {
        let (spec, guard) = (limits(Some(0.0), Some(width)), Guard { level });
        let value = at * width;
        let within = spec.accepted(u, guard).is_some_and(|inner| inner.hold(value));
        let called = verdict(probability(value, u, spec), guard) == Verdict::InSpec;
        prop_assert_eq!(within, called);
    }
}

proptest! {
    #[test]
    fn a_probability_stays_one(y in -20.0f64..20.0, u in 0.0f64..5.0, low in -10.0f64..0.0, high in 0.0f64..10.0) {
        let p = probability(y, u, limits(Some(low), Some(high)));
        prop_assert!((0.0..=1.0).contains(&p));
    }

    #[test]
    fn further_out_is_never_likelier(y in 0.0f64..20.0, step in 0.0f64..5.0, u in 0.001f64..5.0) {
        let spec = limits(Some(-1.0), Some(1.0));
        prop_assert!(probability(y + step, u, spec) <= probability(y, u, spec) + 1e-12);
    }

    #[test]
    fn wider_limits_are_never_less_likely(y in -5.0f64..5.0, u in 0.001f64..5.0, more in 0.0f64..3.0) {
        let narrow = probability(y, u, limits(Some(-1.0), Some(1.0)));
        let wide = probability(y, u, limits(Some(-1.0 - more), Some(1.0 + more)));
        prop_assert!(wide >= narrow - 1e-12);
    }

    #[test]
    fn mirrored_is_the_same(y in -5.0f64..5.0, u in 0.001f64..5.0) {
        let p = probability(y, u, limits(Some(-1.0), Some(2.0)));
        let q = probability(-y, u, limits(Some(-2.0), Some(1.0)));
        prop_assert!((p - q).abs() < 1e-12);
    }
}
