//! Units of measure as small newtypes.
//!
//! Newtypes of our own and not the crate `uom`: a job needs a dozen
//! quantities and no dimensional algebra, the numbers cross the door to
//! TypeScript as plain `number`s (`uom`'s types would need a second set of wire
//! types), and a compile error that says "expected `Ohms`, found `Volts`" can
//! be read by anyone. Each type is `f64` in the unit of its name.
//!
//! Conversion factors are exact by definition: the international foot and pound
//! of 1959, standard gravity 9.80665 m/s², US gallon 231 in³, imperial gallon
//! 4.54609 l, mile 1.609344 km, 0 °C = 32 °F.

mod choice;
mod show;
mod table;

pub use choice::{UnitMismatch, Units};
pub use show::{COVERAGE, outwards, show, show_expanded, show_number, show_pm, show_range, show_u};
pub use table::{Quantity, Unit};

use serde::{Deserialize, Serialize};
use ts_rs::TS;

macro_rules! newtype {
    ($(#[$doc:meta])* $name:ident, $unit:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize, TS)]
        #[serde(transparent)]
        pub struct $name(pub f64);

        impl $name {
            /// The bare number, in the unit of the type's name.
            pub const fn get(self) -> f64 {
                self.0
            }

            /// From a number in `unit`; `None` if that unit measures something else.
            pub fn from_unit(value: f64, unit: Unit) -> Option<Self> {
                (unit.quantity() == Unit::$unit.quantity()).then(|| Self(unit.to_base(value)))
            }

            /// As a number in `unit`; `None` if that unit measures something else.
            pub fn in_unit(self, unit: Unit) -> Option<f64> {
                (unit.quantity() == Unit::$unit.quantity()).then(|| unit.from_base(self.0))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                write!(f, "{} {}", show_number(self.0), Unit::$unit.symbol())
            }
        }
    };
}

newtype!(
    /// Electrical resistance.
    Ohms,
    Ohm
);
newtype!(
    /// Electrical voltage.
    Volts,
    Volt
);
newtype!(
    /// Frequency of a signal.
    Hertz,
    Hertz
);
newtype!(
    /// Temperature on the Celsius scale.
    Celsius,
    Celsius
);
newtype!(
    /// Tightening torque.
    NewtonMetres,
    NewtonMetre
);
newtype!(
    /// Volume of a fluid.
    Litres,
    Litre
);
newtype!(
    /// A length on a part.
    Millimetres,
    Millimetre
);
newtype!(
    /// A distance driven.
    Kilometres,
    Kilometre
);

#[cfg(test)]
mod tests;
