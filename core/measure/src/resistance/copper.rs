//! A copper winding's resistance at another temperature.
//!
//! IEC 60028: the temperature coefficient of annealed copper at 20 °C is
//! 0.00393 per kelvin, which is the rule `R2/R1 = (234.5 + t2)/(234.5 + t1)`.
//! For copper coils only, never for sensors of other material.

use crate::uncertainty::{Estimate, quadrature};

/// Temperature in °C below zero at which the rule's line meets zero ohms.
const ZERO_C: f64 = 234.5;

/// What to multiply a resistance at `from_c` by to have it at `to_c`.
pub fn factor(from_c: f64, to_c: f64) -> f64 {
    (ZERO_C + to_c) / (ZERO_C + from_c)
}

/// A resistance at the temperature `from` (°C), brought to the temperature `to`. What is
/// in doubt of both goes into the result (GUM 5.1.2):
/// `u² = (f u_R)² + (R f / (234.5 + from) u_from)² + (R f / (234.5 + to) u_to)²`.
pub fn correct(ohms: Estimate, from: Estimate, to: Estimate) -> Estimate {
    let f = factor(from.value, to.value);
    let value = ohms.value * f;
    let by = |t: Estimate| value / (ZERO_C + t.value) * t.u;
    Estimate {
        value,
        u: quadrature(&[ohms.u * f, by(from), by(to)]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// IEC 60028's 234.5 rule, worked with Python: ohms, from °C, to °C, ohms.
    #[test]
    fn copper_at_another_temperature() {
        let check = |ohms: f64, from: f64, to: f64, expect: f64, within: f64| {
            let got = ohms * factor(from, to);
            assert!(
                (got - expect).abs() < within,
                "{ohms} at {from} -> {to}: {got}, {expect}"
            );
        };
        check(5.0, 20.0, 60.0, 5.785855, 1e-6);
        check(5.0, 20.0, 80.0, 6.178782, 1e-6);
        check(20.0, 20.0, -20.0, 16.856582, 1e-6);
        check(12.0, 20.0, 100.0, 15.772102, 1e-6);
        check(6.2, 65.0, 20.0, 5.268447, 1e-6);
        check(5.3, 70.0, 20.0, 4.42972, 1e-5);
        // The same by the coefficient 0.00393 of IEC 60028 itself.
        check(5.0, 20.0, 60.0, 5.0 * (1.0 + 0.00393 * 40.0), 5e-4);
        check(12.0, 20.0, 100.0, 12.0 * (1.0 + 0.00393 * 80.0), 2e-3);
        // A table of factors to 25 °C (from memory: where it stands was not kept).
        for (t, printed) in [(40.0, 1.058), (60.0, 1.135), (75.0, 1.193), (100.0, 1.289)] {
            check(1.0, 25.0, t, printed, 5.1e-4);
        }
    }

    /// The Python package `uncertainties` propagates the same way: first order.
    /// Here by finite differences.
    #[test]
    fn the_temperatures_doubt_goes_in() {
        let ohms = Estimate {
            value: 5.3,
            u: 0.15,
        };
        let t = Estimate {
            value: 70.0,
            u: 2.0,
        };
        let to = |u| Estimate { value: 20.0, u };
        let got = correct(ohms, t, to(0.0));
        let f = |r: f64, t: f64, to: f64| r * factor(t, to);
        let by_r = (f(5.3 + 1e-4, 70.0, 20.0) - f(5.3 - 1e-4, 70.0, 20.0)) / 2e-4 * 0.15;
        let by_t = (f(5.3, 70.0 + 1e-4, 20.0) - f(5.3, 70.0 - 1e-4, 20.0)) / 2e-4 * 2.0;
        assert!((got.u - by_r.hypot(by_t)).abs() < 1e-6);
        let by_to = (f(5.3, 70.0, 20.0 + 1e-4) - f(5.3, 70.0, 20.0 - 1e-4)) / 2e-4 * 3.0;
        let got = correct(ohms, t, to(3.0));
        assert!((got.u - by_r.hypot(by_t).hypot(by_to)).abs() < 1e-6);
    }

    proptest! {
        #[test]
        fn there_and_back(ohms in 0.1f64..1e5, a in -40.0f64..160.0, b in -40.0f64..160.0) {
            let back = ohms * factor(a, b) * factor(b, a);
            prop_assert!((back - ohms).abs() < 1e-9 * ohms);
        }

        #[test]
        fn hotter_is_more(a in -40.0f64..160.0, more in 0.01f64..50.0) {
            prop_assert!(factor(20.0, a + more) > factor(20.0, a));
        }
    }
}
