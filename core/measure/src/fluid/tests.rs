use super::*;
use crate::uncertainty::Estimate;
use crate::unit::Units;
use proptest::prelude::*;

fn rho(kg_m3: f64) -> Density {
    Density {
        kg_m3,
        half_width_kg_m3: 0.0,
    }
}

/// ASTM D1250 / API MPMS 11.1: the 15 °C form worked with Python, and the full
/// 2004 form at 60 °F (four public code files agree on it), which must give the
/// same ratio between two temperatures within 2e-5 relative.
#[test]
fn volume_corrections() {
    for (density, celsius, vcf) in [
        (840.0, 40.0, 0.981215),
        (840.0, 80.0, 0.950785),
        (850.0, -10.0, 1.018358),
        (850.0, 20.0, 0.996303),
        (850.0, 40.0, 0.981437),
        (850.0, 80.0, 0.951370),
        (850.0, 100.0, 0.936194),
        (860.0, 60.0, 0.966849),
        (870.0, 80.0, 0.952501),
    ] {
        let got = volume_correction(rho(density), celsius).unwrap();
        assert!((got - vcf).abs() < 1e-6, "{density} at {celsius}: {got}");
    }
    let ours = |celsius| volume_correction(rho(850.0), celsius).unwrap();
    for (celsius, full_2004) in [
        (-10.0, 1.018769),
        (40.0, 0.981847),
        (80.0, 0.951777),
        (100.0, 0.936599),
    ] {
        let (ours, full) = (ours(celsius) / ours(20.0), full_2004 / 0.996713);
        assert!((ours / full - 1.0).abs() < 4e-5, "{celsius}: {ours} {full}");
    }
}

/// 5.000 l drained at 80 °C: 4.7569 l at 15 °C, 4.8468 l at 40 °C (Python, D1250).
#[test]
fn five_litres_drained_hot() {
    let v15 = volume_at_15(Estimate { value: 5.0, u: 0.0 }, 80.0, 0.0, rho(850.0)).unwrap();
    assert!((v15.value - 4.7569).abs() < 1e-4);
    let v40 = v15.value / volume_correction(rho(850.0), 40.0).unwrap();
    assert!((v40 - 4.8468).abs() < 1e-4);
}

fn poured(litres: f64, celsius: f64) -> Poured {
    Poured {
        litres,
        litres_half_width: 0.05,
        celsius,
        celsius_half_width: 3.0,
    }
}

#[test]
fn out_and_in() {
    let check = |out: &[Poured], filled: &[Poured], difference: f64, says: &str| {
        let got = balance(out, filled, Density::default(), Units::default()).unwrap();
        assert!((got.difference.value - difference).abs() < 2e-3, "{got:?}");
        assert!(got.words.contains(says), "{}", got.words);
        assert_eq!(got.steps.len(), out.len() + filled.len());
    };
    // 5.0 l out at 80 °C is 4.758 l; 4.8 l in at 20 °C is 4.782 l.
    check(
        &[poured(5.0, 80.0)],
        &[poured(4.8, 20.0)],
        0.024,
        "As much went in",
    );
    check(
        &[poured(4.0, 80.0)],
        &[poured(4.0, 20.0), poured(0.8, 20.0)],
        0.976,
        "More went in",
    );
    check(
        &[poured(6.0, 20.0)],
        &[poured(5.0, 20.0)],
        -0.996,
        "Less went in",
    );
    check(&[poured(5.0, 80.0)], &[], -4.758, "once both are entered");
    // Read without temperature the first would seem 0.2 l short.
}

/// The Python package uncertainties gives the same to first order; here the
/// half widths of jug (0.05 l), thermometer (3 K) and density (15 kg/m³) by hand.
#[test]
fn the_doubt_of_a_balance() {
    let got = balance(
        &[poured(5.0, 80.0)],
        &[],
        Density::default(),
        Units::default(),
    )
    .unwrap();
    let jug: f64 = 0.05 / 3f64.sqrt() * 0.9516;
    // d VCF/dt about -α VCF (1 + 1.6 α Δ), α = 0.6278/855.
    let alpha: f64 = 0.6278 / 855.0;
    let by_t: f64 = 5.0 * alpha * 0.9516 * (1.0 + 1.6 * alpha * 65.0) * 3.0 / 3f64.sqrt();
    let by_rho: f64 =
        5.0 * 0.9516 * alpha * 65.0 * (1.0 + 1.6 * alpha * 65.0) * 15.0 / 855.0 / 3f64.sqrt();
    let u = (jug * jug + by_t * by_t + by_rho * by_rho).sqrt();
    assert!(
        (got.out_15.u / u - 1.0).abs() < 0.01,
        "{} {u}",
        got.out_15.u
    );
}

#[test]
fn what_cannot_be_is_asked_back() {
    let litres = |value| Estimate { value, u: 0.0 };
    for (value, celsius, density, says) in [
        (5.0, 400.0, 850.0, "400 °C can't be"),
        (5.0, -80.0, 850.0, "can't be the temperature"),
        (-1.0, 20.0, 850.0, "-1 l can't be"),
        (5000.0, 20.0, 850.0, "look at the unit"),
        (5.0, 20.0, 85.0, "density"),
        (5.0, f64::NAN, 850.0, "can't be"),
        (f64::NAN, 20.0, 850.0, "can't be"),
    ] {
        let error = volume_at_15(litres(value), celsius, 1.0, rho(density))
            .unwrap_err()
            .to_string();
        assert!(error.contains(says), "{error}");
    }
    assert!(volume_at_15(litres(5.0), 20.0, -1.0, rho(850.0)).is_err());
}

/// Common practice, no published source; the window is an invented maker's.
#[test]
fn what_the_plug_says() {
    use Action::*;
    let window = LevelWindow {
        low_c: 35.0,
        high_c: 45.0,
    };
    let ready = |celsius, plug| Look {
        celsius,
        engine_running: true,
        gears_cycled: true,
        seen: Seen::Plug(plug),
    };
    let check = |look: Look, action, says: &str| {
        let got = next_step(look, window, Units::default()).unwrap();
        assert_eq!(got.action, action, "{look:?}: {}", got.words);
        assert!(got.words.contains(says), "{}", got.words);
        assert_eq!(got.set, action == Close);
    };
    check(
        Look {
            engine_running: false,
            ..ready(40.0, Plug::Trickle)
        },
        StartEngine,
        "Brake held",
    );
    check(
        Look {
            gears_cycled: false,
            ..ready(40.0, Plug::Trickle)
        },
        CycleGears,
        "every gear",
    );
    check(ready(30.0, Plug::Closed), WaitWarmer, "wait for 35 °C");
    check(ready(30.0, Plug::Trickle), WaitWarmer, "too cold");
    check(ready(30.0, Plug::Stream), WaitWarmer, "too full");
    check(ready(50.0, Plug::Trickle), WaitCooler, "cool to 45 °C");
    check(ready(50.0, Plug::Nothing), WaitCooler, "it is low");
    check(ready(35.0, Plug::Closed), OpenPlug, "open the level plug");
    check(
        ready(40.0, Plug::Nothing),
        Add,
        "add fluid until it trickles",
    );
    check(ready(40.0, Plug::Stream), LetRun, "run down");
    check(ready(45.0, Plug::Trickle), Close, "level is right");
    assert!(matches!(
        next_step(ready(400.0, Plug::Trickle), window, Units::default()),
        Err(LevelError::Fluid(FluidError::Temperature { .. }))
    ));
    let swapped = LevelWindow {
        low_c: 45.0,
        high_c: 35.0,
    };
    assert!(matches!(
        next_step(ready(40.0, Plug::Trickle), swapped, Units::default()),
        Err(LevelError::Swapped { .. })
    ));
}

/// Units without a level plug are read on the dipstick (common practice, no
/// published source).
#[test]
fn what_the_dipstick_says() {
    use Action::*;
    let window = LevelWindow {
        low_c: 65.0,
        high_c: 85.0,
    };
    let check = |celsius, stick, action, says: &str| {
        let look = Look {
            celsius,
            engine_running: true,
            gears_cycled: true,
            seen: Seen::Dipstick(stick),
        };
        let got = next_step(look, window, Units::default()).unwrap();
        assert_eq!(got.action, action, "{look:?}: {}", got.words);
        assert!(got.words.contains(says), "{}", got.words);
        assert!(!got.words.contains("plug"), "{}", got.words);
        assert_eq!(got.set, action == Close);
    };
    check(75.0, Dipstick::Between, Close, "level is right");
    check(75.0, Dipstick::Below, Add, "add a little");
    check(75.0, Dipstick::Above, LetRun, "too full");
    check(40.0, Dipstick::Between, WaitWarmer, "too cold");
    check(40.0, Dipstick::Above, WaitWarmer, "too full");
    check(95.0, Dipstick::Below, WaitCooler, "it is low");
}

#[test]
fn a_window_for_anything_and_fluid_too_hot_are_asked_about() {
    let window = |low, high| doubt_window(low, high, Units::default());
    assert!(
        window(Some(0.0), Some(120.0))
            .unwrap()
            .contains("0 °C to 120 °C")
    );
    assert!(window(Some(0.0), None).is_some());
    assert!(window(None, Some(120.0)).is_some());
    for (low, high) in [(35.0, 45.0), (30.0, 60.0), (65.0, 95.0)] {
        assert_eq!(window(Some(low), Some(high)), None);
    }
    let hot = |celsius, units| doubt_fluid(celsius, units);
    let asked = hot(104.0, Units::METRIC).unwrap();
    assert!(asked.contains("104 °F, which is 40 °C"), "{asked}");
    assert_eq!(hot(40.0, Units::METRIC), None);
    // 104 typed on a device that is set to °F is 40 °C: nothing to ask.
    assert_eq!(hot(40.0, Units::AMERICAN), None);
    assert!(hot(100.0, Units::AMERICAN).unwrap().contains("212 °F"));
}

proptest! {
    #[test]
    fn warmer_fluid_corrects_lower(density in 810.0f64..950.0, t in -30.0f64..140.0, more in 0.1f64..9.0) {
        let at = |t| volume_correction(rho(density), t).unwrap();
        prop_assert!(at(t + more) < at(t));
        prop_assert!((0.85..1.06).contains(&at(t)));
        prop_assert!((volume_correction(rho(density), 15.0).unwrap() - 1.0).abs() < 1e-15);
    }

    #[test]
    fn the_level_is_set_only_on_a_trickle_within_the_window(
        celsius in -30.0f64..140.0, plug in 0usize..4, engine: bool, gears: bool,
    ) {
        let plug = [Plug::Closed, Plug::Nothing, Plug::Trickle, Plug::Stream][plug];
        let look = Look { celsius, engine_running: engine, gears_cycled: gears, seen: Seen::Plug(plug) };
        let window = LevelWindow { low_c: 35.0, high_c: 45.0 };
        let right = engine && gears && plug == Plug::Trickle && (35.0..=45.0).contains(&celsius);
        prop_assert_eq!(next_step(look, window, Units::default()).unwrap().set, right);
    }
}
