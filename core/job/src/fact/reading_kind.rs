//! What is read of an electrical part: the one table that bench, report and screens read.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

use crate::unit::Quantity;

/// What is read of an electrical part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ReadingKind {
    /// Winding or sensor resistance, ohm.
    Resistance,
    /// Resistance to ground, ohm.
    Insulation,
    /// Voltage between two points, volt.
    Voltage,
    /// Frequency of a signal, hertz.
    Frequency,
    /// Current through a part, ampere.
    Current,
    /// How long a signal is on, per cent of its period.
    DutyCycle,
    /// Volt lost over wires, plugs and contacts while the current flows.
    VoltageDrop,
    /// Ohms while voltage is applied, from volts and amperes; a click heard or not.
    Applied,
    /// Pressure of the oil at a test port, bar.
    Pressure,
    /// How fast the engine turns at most against the held gearbox, 1/min.
    Stall,
}

/// A unit on a meter's display. It stands beside the number and is chosen by the technician.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
pub struct DisplayUnit {
    /// As the display shows it.
    pub symbol: &'static str,
    /// What is typed behind the number for it; nothing for the usual one.
    pub typed: &'static str,
}

impl DisplayUnit {
    const fn new(symbol: &'static str, typed: &'static str) -> DisplayUnit {
        DisplayUnit { symbol, typed }
    }

    /// Those that a meter shows a quantity in.
    const fn of(quantity: Quantity) -> &'static [DisplayUnit] {
        const OHM: &[DisplayUnit] = &[
            DisplayUnit::new("Ω", ""),
            DisplayUnit::new("kΩ", "k"),
            DisplayUnit::new("MΩ", "M"),
        ];
        const VOLT: &[DisplayUnit] = &[DisplayUnit::new("V", ""), DisplayUnit::new("mV", " mV")];
        const AMPERE: &[DisplayUnit] = &[DisplayUnit::new("A", ""), DisplayUnit::new("mA", " mA")];
        const HERTZ: &[DisplayUnit] = &[DisplayUnit::new("Hz", ""), DisplayUnit::new("kHz", "k")];
        const PER_CENT: &[DisplayUnit] = &[DisplayUnit::new("%", "")];
        match quantity {
            Quantity::Resistance => OHM,
            Quantity::Voltage => VOLT,
            Quantity::Current => AMPERE,
            Quantity::Frequency => HERTZ,
            Quantity::DutyCycle => PER_CENT,
            _ => &[],
        }
    }
}

/// The row of one kind of reading, in the language that is spoken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
pub struct ReadingRow {
    /// As lines and wire name it.
    pub kind: ReadingKind,
    /// What it is measured as; numbers are kept in its base unit.
    pub quantity: Quantity,
    /// The sign of that unit, for keys and fields of its limits.
    pub symbol: &'static str,
    /// What the meter shows, where that is not yet what is wanted: amperes for ohms.
    pub shows: Quantity,
    /// The units that a number on its display may be in; none where no such meter reads it.
    pub displayed: &'static [DisplayUnit],
    /// Its name in the report: "Resistance to ground".
    pub name: &'static str,
    /// The same on a key: "To ground".
    pub label: &'static str,
}

impl ReadingKind {
    /// Every kind, in the order in which it is offered.
    pub const ALL: [ReadingKind; 10] = [
        ReadingKind::Resistance,
        ReadingKind::Insulation,
        ReadingKind::Voltage,
        ReadingKind::VoltageDrop,
        ReadingKind::Frequency,
        ReadingKind::Current,
        ReadingKind::DutyCycle,
        ReadingKind::Applied,
        ReadingKind::Pressure,
        ReadingKind::Stall,
    ];

    /// What it is measured as.
    pub fn quantity(self) -> Quantity {
        self.row().quantity
    }

    /// What its samples are typed as.
    pub fn shows(self) -> Quantity {
        self.row().shows
    }

    /// What the table says of this kind, in the language that is spoken.
    pub fn row(self) -> ReadingRow {
        use Quantity as Q;
        let row = |quantity, symbol, name, label| ReadingRow {
            kind: self,
            quantity,
            symbol,
            shows: quantity,
            displayed: DisplayUnit::of(quantity),
            name,
            label,
        };
        match self {
            ReadingKind::Resistance => {
                row(Q::Resistance, "Ω", term!("resistance"), term!("resistance"))
            }
            ReadingKind::Insulation => row(
                Q::Resistance,
                "Ω",
                term!("resistance-to-ground"),
                term!("to-ground"),
            ),
            ReadingKind::Voltage => row(Q::Voltage, "V", term!("voltage"), term!("voltage")),
            ReadingKind::Frequency => {
                row(Q::Frequency, "Hz", term!("frequency"), term!("frequency"))
            }
            ReadingKind::Current => row(Q::Current, "A", term!("current"), term!("current")),
            ReadingKind::DutyCycle => {
                row(Q::DutyCycle, "%", term!("duty-cycle"), term!("duty-cycle"))
            }
            ReadingKind::VoltageDrop => row(
                Q::Voltage,
                "V",
                term!("voltage-drop"),
                term!("voltage-drop"),
            ),
            ReadingKind::Applied => ReadingRow {
                shows: Q::Current,
                displayed: DisplayUnit::of(Q::Current),
                ..row(
                    Q::Resistance,
                    "Ω",
                    term!("resistance-with-voltage-applied"),
                    term!("voltage-applied"),
                )
            },
            ReadingKind::Pressure => row(
                Q::Pressure,
                "bar",
                term!("oil-pressure"),
                term!("oil-pressure"),
            ),
            ReadingKind::Stall => row(
                Q::Speed,
                "1/min",
                term!("stall-speed"),
                term!("stall-speed"),
            ),
        }
    }
}
