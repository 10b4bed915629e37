//! Numbers in sentences: as many digits as mean something, no more.

use swarfbook_words::{decimals, say};

use super::{Quantity, Unit};

/// The coverage factor of every uncertainty that is shown, of about 95 % where
/// the distribution is normal (GUM 6.3.3).
pub const COVERAGE: f64 = 2.0;

/// Four significant digits, no trailing zeros: `12.5`, `0.4166`, `12500`; with the
/// decimal mark of the language that is spoken.
pub fn show_number(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { "?".into() };
    }
    let magnitude = value.abs().log10().floor() as i32;
    let places = (3 - magnitude).clamp(0, 9) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') {
        decimals(text.trim_end_matches('0').trim_end_matches('.'))
    } else {
        text
    }
}

/// A value in the base unit of `quantity`, with the unit that reads best
/// (`12.5 kohm`, not `12500 ohm`).
pub fn show(base: f64, quantity: Quantity) -> String {
    let unit = best(base, quantity);
    format!("{} {}", show_number(unit.from_base(base)), unit.symbol())
}

/// A value with its uncertainty, both in the base unit: the uncertainty with two
/// significant digits, the value to the same place (GUM 7.2.6): `12.67 ± 0.47 ohm`.
///
/// Rounded outwards: what is shown covers all that was worked out.
pub fn show_pm(base: f64, u: f64, quantity: Quantity) -> String {
    show_pm_in(base, u, best(base, quantity))
}

/// The same with an expanded uncertainty made from a standard one, and its factor said:
/// `12.67 ± 0.47 ohm (k = 2)`.
pub fn show_expanded(base: f64, standard_u: f64, quantity: Quantity) -> String {
    let words = show_pm(base, COVERAGE * standard_u, quantity);
    format!("{words} (k = {})", show_number(COVERAGE))
}

/// The same in a unit that is chosen.
pub(super) fn show_pm_in(base: f64, u: f64, unit: Unit) -> String {
    let value = unit.from_base(base);
    let u = (unit.from_base(base + u) - value).abs();
    if !(u.is_finite() && u > 0.0) {
        return format!("{} {}", show_number(value), unit.symbol());
    }
    let [value, u] = rounded_outwards(value, u);
    format!("{value} ± {u} {}", unit.symbol())
}

/// An uncertainty alone, with two significant digits, rounded up: `0.47 ohm`.
pub fn show_u(base_u: f64, quantity: Quantity) -> String {
    let unit = best(base_u, quantity);
    let u = unit.from_base(base_u) - unit.from_base(0.0);
    if !(u.is_finite() && u > 0.0) {
        return format!("{} {}", show_number(u), unit.symbol());
    }
    let [_, u] = rounded_outwards(0.0, u);
    format!("{u} {}", unit.symbol())
}

/// The ends of an interval at so many decimals: the lower down, the upper up.
pub fn outwards(low: f64, high: f64, places: i32) -> [f64; 2] {
    let scale = 10_f64.powi(places);
    [
        (low * scale + NOISE).floor() / scale,
        (high * scale - NOISE).ceil() / scale,
    ]
}

/// What binary fractions add or lose is no reason to go on by a digit.
const NOISE: f64 = 1e-6;

/// Value and uncertainty as text to the same place: the uncertainty has two
/// significant digits and covers what rounding moved the value by.
fn rounded_outwards(value: f64, u: f64) -> [String; 2] {
    let place = |u: f64| 1 - u.log10().floor() as i32;
    let at = |places: i32| {
        let scale = 10_f64.powi(places.min(9));
        let rounded = if places < 0 {
            value.round()
        } else {
            (value * scale).round() / scale
        };
        let covers = u + (value - rounded).abs();
        (rounded, (covers * scale - NOISE).ceil() / scale)
    };
    let places = place(u);
    // Rounded first: 0.0996 has two digits as 0.10, not as 0.100.
    let places = place(at(places).1 * (1.0 + 1e-12));
    let (rounded, covers) = at(places);
    let shown = places.clamp(0, 9) as usize;
    [rounded, covers].map(|one| decimals(&format!("{one:.shown$}")))
}

/// Two values in the base unit, the unit written once: `11 to 15 ohm`.
pub fn show_range(low: f64, high: f64, quantity: Quantity) -> String {
    let unit = best(high, quantity);
    say!(
        "from-base-to-from-base-2-unit",
        from_base = show_number(unit.from_base(low)),
        from_base_2 = show_number(unit.from_base(high)),
        unit = unit.symbol()
    )
}

fn best(base: f64, quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Resistance if base.abs() >= 1e9 => Unit::Gigaohm,
        Quantity::Resistance if base.abs() >= 1e6 => Unit::Megaohm,
        Quantity::Resistance if base.abs() >= 1e3 => Unit::Kiloohm,
        Quantity::Frequency if base.abs() >= 1e4 => Unit::Kilohertz,
        other => other.base(),
    }
}
