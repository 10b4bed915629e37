//! Numbers in the units of this device. The log and the procedures hold the
//! core's own; here they are turned for whoever reads and types.

use swarfbook_job::procedure::Evidence;
use swarfbook_job::words::thousands;
use swarfbook_measure::unit::{Quantity, Unit, Units};
use swarfbook_words::decimals;

/// "118,400 km".
pub(crate) fn distance_words(km: f64, units: Units) -> String {
    let unit = units.of(Quantity::Distance);
    format!("{} {}", thousands(unit.from_base(km)), unit.symbol())
}

/// A distance that was worked out, no finer than it is meant: "6,200 mi".
pub(crate) fn round_distance_words(km: f64, units: Units) -> String {
    let unit = units.of(Quantity::Distance);
    let value = unit.from_base(km);
    let step = if unit == Unit::Kilometre { 1.0 } else { 100.0 };
    let rounded = (value / step).round() * step;
    // What was typed as a round number of that unit stays as it was.
    let kept = if (value - value.round()).abs() < 1e-6 {
        value
    } else {
        rounded
    };
    format!("{} {}", thousands(kept), unit.symbol())
}

/// What a unit of a procedure's file measures, where the core knows it.
pub(crate) fn quantity_of(unit: &str) -> Option<Quantity> {
    Unit::all()
        .find(|one| one.symbol() == unit)
        // Numbers are kept in the unit of the file: only the core's own can be turned.
        .filter(|one| one.quantity().base() == *one)
        .map(Unit::quantity)
}

/// A number of a procedure's wish, with its unit: "4.6 l".
pub(crate) fn measured_words(value: f64, unit: &str, units: Units) -> String {
    let (number, symbol) = local(value, unit, units);
    let digits = match quantity_of(unit) {
        // Long numbers are read in threes.
        Some(Quantity::Distance) if number >= 1_000.0 => thousands(number),
        _ => decimals(&trim(number)),
    };
    format!("{digits} {symbol}")
}

/// The same as it would be typed.
pub(super) fn measured_typed(value: f64, unit: &str, units: Units) -> String {
    trim(local(value, unit, units).0)
}

fn local(value: f64, unit: &str, units: Units) -> (f64, String) {
    match quantity_of(unit) {
        Some(quantity) => {
            let own = units.of(quantity);
            (own.from_base(value), own.symbol().to_owned())
        }
        None => (value, unit.to_owned()),
    }
}

/// A wish as this device asks for it: its dial in the device's unit, no end of
/// it beyond what the procedure allows.
pub(crate) fn asked(evidence: &Evidence, units: Units) -> Evidence {
    let mut asked = evidence.clone();
    if let Evidence::Measure {
        unit,
        min,
        max,
        step,
        quick,
        ..
    } = &mut asked
        && let Some(quantity) = quantity_of(unit)
        && units.of(quantity) != quantity.base()
    {
        let own = units.of(quantity);
        let turns = |value: f64| own.from_base(value) / *step;
        *min = (turns(*min) - SLACK).ceil() * *step;
        *max = (turns(*max) + SLACK).floor() * *step;
        for value in quick {
            *value = (own.from_base(*value) / *step).round() * *step;
        }
        own.symbol().clone_into(unit);
    }
    asked
}

/// Noise of a conversion, in turns of a dial.
const SLACK: f64 = 1e-6;

/// A number without the noise of its sum: 4.6, not 4.6000000000000005.
pub(super) fn trim(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measure(unit: &str, min: f64, max: f64, step: f64) -> Evidence {
        Evidence::Measure {
            topic: "t".into(),
            role: None,
            label: "T".into(),
            unit: unit.into(),
            min,
            max,
            step,
            adds: false,
            quick: vec![30.0, 35.0],
            about: None,
        }
    }

    #[test]
    fn a_dial_turns_in_the_devices_unit_and_stays_within_the_procedures_ends() {
        let Evidence::Measure {
            unit,
            min,
            max,
            step,
            quick,
            ..
        } = asked(&measure("°C", -40.0, 160.0, 1.0), Units::AMERICAN)
        else {
            unreachable!()
        };
        assert_eq!((unit.as_str(), min, max, step), ("°F", -40.0, 320.0, 1.0));
        assert_eq!(quick, [86.0, 95.0]);
        let Evidence::Measure { max, .. } = asked(&measure("l", 0.0, 20.0, 0.1), Units::AMERICAN)
        else {
            unreachable!()
        };
        // 20 l are 21.134 US quarts.
        assert!((max - 21.1).abs() < 1e-9, "{max}");
    }

    #[test]
    fn a_unit_that_the_core_does_not_know_stays() {
        let bar = measure("bar", 0.0, 20.0, 0.1);
        assert_eq!(asked(&bar, Units::AMERICAN), bar);
        assert_eq!(measured_words(4.5, "bar", Units::AMERICAN), "4.5 bar");
    }

    #[test]
    fn what_was_typed_comes_back_as_it_was() {
        let units = Units::AMERICAN;
        for (typed, quantity, words) in [
            (176.0, Quantity::Temperature, "176 °F"),
            (4.9, Quantity::Volume, "4.9 US qt"),
        ] {
            let base = units.of(quantity).to_base(typed);
            assert_eq!(measured_words(base, quantity.base().symbol(), units), words);
        }
        assert_eq!(
            measured_words(40_000.0, "km", Units::default()),
            "40,000 km"
        );
        assert_eq!(round_distance_words(9_656.064, units), "6,000 mi");
        assert_eq!(round_distance_words(10_000.0, units), "6,200 mi");
        assert_eq!(
            round_distance_words(10_000.0, Units::default()),
            "10,000 km"
        );
    }
}
