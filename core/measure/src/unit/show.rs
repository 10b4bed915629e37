//! Numbers in sentences: as many digits as mean something, no more.

use swarfbook_words::{decimals, say};

use super::{Quantity, Unit};

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
/// significant digits, the value to the same place (GUM 7.2.6): `12.67 ± 0.46 ohm`.
pub fn show_pm(base: f64, u: f64, quantity: Quantity) -> String {
    show_pm_in(base, u, best(base, quantity))
}

/// The same in a unit that is chosen.
pub(super) fn show_pm_in(base: f64, u: f64, unit: Unit) -> String {
    let value = unit.from_base(base);
    let u = (unit.from_base(base + u) - value).abs();
    if !(u.is_finite() && u > 0.0) {
        return format!("{} {}", show_number(value), unit.symbol());
    }
    // Rounded first: 0.0996 has two digits as 0.10, not as 0.100.
    let place = |u: f64| 1 - u.log10().floor() as i32;
    let scale = 10_f64.powi(place(u));
    let places = place((u * scale).round() / scale).clamp(0, 9) as usize;
    let figures = [value, u].map(|one| decimals(&format!("{one:.places$}")));
    let [value, u] = figures;
    format!("{value} ± {u} {}", unit.symbol())
}

/// Two values in the base unit, the unit written once: `11 to 15 ohm`.
pub fn show_range(low: f64, high: f64, quantity: Quantity) -> String {
    let unit = best(high, quantity);
    say!(
        "{} to {} {}",
        show_number(unit.from_base(low)),
        show_number(unit.from_base(high)),
        unit.symbol()
    )
}

fn best(base: f64, quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Resistance if base.abs() >= 1e6 => Unit::Megaohm,
        Quantity::Resistance if base.abs() >= 1e3 => Unit::Kiloohm,
        Quantity::Frequency if base.abs() >= 1e4 => Unit::Kilohertz,
        other => other.base(),
    }
}
