//! The units that a technician thinks in.

use serde::{Deserialize, Serialize};
use swarfbook_words::say;
use ts_rs::TS;

use super::show::show_pm_in;
use super::{Quantity, Unit, show_number};

/// A unit for each quantity that trades measure differently. What is electrical
/// has one unit everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Units {
    /// Of a distance driven.
    pub distance: Unit,
    /// Of a temperature.
    pub temperature: Unit,
    /// Of a tightening torque.
    pub torque: Unit,
    /// Of a volume of fluid.
    pub volume: Unit,
    /// Of a length on a part.
    pub length: Unit,
}

impl Default for Units {
    /// Those that the core computes in.
    fn default() -> Units {
        Units::METRIC
    }
}

/// What is wrong with a choice of units.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("{}", say!("unit-measures-no-word", unit = unit.symbol(), word = quantity.word()))]
pub struct UnitMismatch {
    /// What was chosen.
    pub unit: Unit,
    /// What it was chosen for.
    pub quantity: Quantity,
}

impl Units {
    /// Those that the core computes in.
    pub const METRIC: Units = Units {
        distance: Unit::Kilometre,
        temperature: Unit::Celsius,
        torque: Unit::NewtonMetre,
        volume: Unit::Litre,
        length: Unit::Millimetre,
    };
    /// As a British workshop reads them: miles on the clock, the rest metric (common practice, no
    /// published source).
    pub const BRITISH: Units = Units {
        distance: Unit::Mile,
        ..Units::METRIC
    };
    /// As a workshop in the United States reads them.
    pub const AMERICAN: Units = Units {
        distance: Unit::Mile,
        temperature: Unit::Fahrenheit,
        torque: Unit::PoundForceFoot,
        volume: Unit::UsQuart,
        length: Unit::Inch,
    };

    /// The unit of a quantity.
    pub const fn of(self, quantity: Quantity) -> Unit {
        match quantity {
            Quantity::Distance => self.distance,
            Quantity::Temperature => self.temperature,
            Quantity::Torque => self.torque,
            Quantity::Volume => self.volume,
            Quantity::Length => self.length,
            Quantity::Resistance
            | Quantity::Voltage
            | Quantity::Frequency
            | Quantity::Current
            | Quantity::DutyCycle
            | Quantity::Pressure
            | Quantity::Speed => quantity.base(),
        }
    }

    /// Whether each unit measures what it was chosen for.
    ///
    /// # Errors
    /// The first that does not.
    pub fn check(self) -> Result<(), UnitMismatch> {
        [
            Quantity::Distance,
            Quantity::Temperature,
            Quantity::Torque,
            Quantity::Volume,
            Quantity::Length,
        ]
        .into_iter()
        .map(|quantity| (self.of(quantity), quantity))
        .find(|(unit, quantity)| unit.quantity() != *quantity)
        .map_or(Ok(()), |(unit, quantity)| {
            Err(UnitMismatch { unit, quantity })
        })
    }

    /// A value in the base unit of `quantity` as this technician reads it, with
    /// its unit: `176 °F`.
    pub fn show(self, base: f64, quantity: Quantity) -> String {
        let unit = self.of(quantity);
        format!("{} {}", show_number(unit.from_base(base)), unit.symbol())
    }

    /// The same with its uncertainty, as [`super::show_pm`] rounds it: `0.32 ± 0.11 US qt`.
    pub fn show_pm(self, base: f64, u: f64, quantity: Quantity) -> String {
        show_pm_in(base, u, self.of(quantity))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST SP 811 (2008), appendix B.8: 1 mile = 1.609344 km, t/°C = (t/°F - 32)/1.8,
    /// 1 lbf·ft = 1.355818 N·m, 1 US qt = 0.9463529 l, 1 in = 25.4 mm (from memory).
    #[test]
    fn what_is_shown_agrees_with_the_published_factors() {
        let units = Units::AMERICAN;
        let cases = [
            (160.9344, Quantity::Distance, "100 mi"),
            (80.0, Quantity::Temperature, "176 °F"),
            (13.558_18, Quantity::Torque, "10 lb-ft"),
            (4.731_764_5, Quantity::Volume, "5 US qt"),
            (25.4, Quantity::Length, "1 in"),
            (12.4, Quantity::Resistance, "12.4 ohm"),
        ];
        for (base, quantity, shown) in cases {
            assert_eq!(units.show(base, quantity), shown);
        }
    }

    #[test]
    fn a_unit_of_something_else_is_told() {
        let wrong = Units {
            torque: Unit::Mile,
            ..Units::default()
        };
        let why = wrong.check().unwrap_err();
        assert_eq!(why.to_string(), "mi measures no torque.");
        for units in [Units::METRIC, Units::BRITISH, Units::AMERICAN] {
            assert_eq!(units.check(), Ok(()));
        }
    }
}
