//! The one table of units: symbol, spellings, factor. Input, display and
//! conversion all read it.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// What is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Quantity {
    /// In ohms.
    Resistance,
    /// In volts.
    Voltage,
    /// In hertz.
    Frequency,
    /// In degrees Celsius.
    Temperature,
    /// In newton metres.
    Torque,
    /// In litres.
    Volume,
    /// In millimetres.
    Length,
    /// In kilometres.
    Distance,
    /// In amperes.
    Current,
    /// In per cent of the period: how long a signal is on.
    DutyCycle,
    /// In bar above the air around.
    Pressure,
    /// In turns a minute.
    Speed,
}

impl Quantity {
    /// The unit in which the core computes, and which a bare number is taken to have.
    pub const fn base(self) -> Unit {
        match self {
            Quantity::Resistance => Unit::Ohm,
            Quantity::Voltage => Unit::Volt,
            Quantity::Frequency => Unit::Hertz,
            Quantity::Temperature => Unit::Celsius,
            Quantity::Torque => Unit::NewtonMetre,
            Quantity::Volume => Unit::Litre,
            Quantity::Length => Unit::Millimetre,
            Quantity::Distance => Unit::Kilometre,
            Quantity::Current => Unit::Ampere,
            Quantity::DutyCycle => Unit::Percent,
            Quantity::Pressure => Unit::Bar,
            Quantity::Speed => Unit::TurnPerMinute,
        }
    }

    /// Every quantity.
    pub const ALL: [Quantity; 12] = [
        Quantity::Resistance,
        Quantity::Voltage,
        Quantity::Frequency,
        Quantity::Temperature,
        Quantity::Torque,
        Quantity::Volume,
        Quantity::Length,
        Quantity::Distance,
        Quantity::Current,
        Quantity::DutyCycle,
        Quantity::Pressure,
        Quantity::Speed,
    ];

    /// The word for a sentence.
    pub fn word(self) -> &'static str {
        match self {
            Quantity::Resistance => term!("resistance-2"),
            Quantity::Voltage => term!("voltage-2"),
            Quantity::Frequency => term!("frequency-2"),
            Quantity::Temperature => term!("temperature"),
            Quantity::Torque => term!("torque"),
            Quantity::Volume => term!("volume"),
            Quantity::Length => term!("length"),
            Quantity::Distance => term!("distance"),
            Quantity::Current => term!("current-2"),
            Quantity::DutyCycle => term!("duty-cycle-2"),
            Quantity::Pressure => term!("pressure"),
            Quantity::Speed => term!("speed"),
        }
    }

    /// Whether a value below zero makes sense.
    pub const fn may_be_negative(self) -> bool {
        matches!(
            self,
            Quantity::Voltage | Quantity::Temperature | Quantity::Current
        )
    }
}

/// A unit as a technician may type or read it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)] // the names are the units
pub enum Unit {
    Milliohm,
    Ohm,
    Kiloohm,
    Megaohm,
    Millivolt,
    Volt,
    Hertz,
    Kilohertz,
    Celsius,
    Fahrenheit,
    NewtonMetre,
    PoundForceFoot,
    PoundForceInch,
    KilogramForceMetre,
    Litre,
    Millilitre,
    UsQuart,
    UsGallon,
    ImperialPint,
    ImperialQuart,
    Millimetre,
    Centimetre,
    Inch,
    Kilometre,
    Mile,
    UsPint,
    NewtonCentimetre,
    Milliampere,
    Ampere,
    Percent,
    Gigaohm,
    Bar,
    Kilopascal,
    Megapascal,
    PoundForceSquareInch,
    TurnPerMinute,
}

struct Row {
    unit: Unit,
    quantity: Quantity,
    symbol: &'static str,
    /// Other ways to type it, lower case, without blanks or middle dots.
    spellings: &'static [&'static str],
    /// base = value * scale + offset
    scale: f64,
    offset: f64,
}

const fn row(
    unit: Unit,
    quantity: Quantity,
    symbol: &'static str,
    spellings: &'static [&'static str],
    scale: f64,
) -> Row {
    Row {
        unit,
        quantity,
        symbol,
        spellings,
        scale,
        offset: 0.0,
    }
}

#[rustfmt::skip]
const ROWS: &[Row] = {
    use Quantity as Q;
    use Unit as U;
    &[
        row(U::Milliohm, Q::Resistance, "mohm", &["milliohm", "milliohms"], 1e-3),
        row(U::Ohm, Q::Resistance, "ohm", &["ω", "ohms", "r"], 1.0),
        row(U::Kiloohm, Q::Resistance, "kohm", &["k", "kω", "kohms", "kiloohm", "kiloohms"], 1e3),
        row(U::Megaohm, Q::Resistance, "Mohm", &["m", "mω", "meg", "megohm", "megohms", "megaohm"], 1e6),
        row(U::Millivolt, Q::Voltage, "mV", &["millivolt", "millivolts"], 1e-3),
        row(U::Volt, Q::Voltage, "V", &["volt", "volts"], 1.0),
        row(U::Hertz, Q::Frequency, "Hz", &["hertz"], 1.0),
        row(U::Kilohertz, Q::Frequency, "kHz", &["k", "kilohertz"], 1e3),
        row(U::Celsius, Q::Temperature, "°C", &["c", "degc", "celsius", "°", "deg"], 1.0),
        Row { unit: U::Fahrenheit, quantity: Q::Temperature, symbol: "°F",
              spellings: &["f", "degf", "fahrenheit"], scale: 5.0 / 9.0, offset: -160.0 / 9.0 },
        row(U::NewtonMetre, Q::Torque, "N·m", &["nm", "n-m", "newtonmetre", "newtonmetres"], 1.0),
        // 0.45359237 kg * 9.80665 m/s² * 0.3048 m
        row(U::PoundForceFoot, Q::Torque, "lb-ft", &["lbft", "ft-lb", "ftlb", "ftlbs", "ft-lbs", "lbfft", "lbf-ft", "ftlbf", "ft-lbf", "footpound", "footpounds", "foot-pound", "foot-pounds", "poundfoot", "poundfeet", "pound-foot", "pound-feet"], 1.355_817_948_331_400_4),
        row(U::PoundForceInch, Q::Torque, "lb-in", &["lbin", "in-lb", "inlb", "inlbs", "in-lbs", "lbfin", "lbf-in", "inlbf", "in-lbf", "inchpound", "inchpounds", "inch-pound", "inch-pounds", "inchlbs", "poundinch", "poundinches", "pound-inch", "pound-inches"], 0.112_984_829_027_616_7),
        row(U::KilogramForceMetre, Q::Torque, "kgf·m", &["kgfm", "kgm", "kg-m", "kgf-m", "kpm"], 9.80665),
        row(U::Litre, Q::Volume, "l", &["liter", "litre", "liters", "litres"], 1.0),
        row(U::Millilitre, Q::Volume, "ml", &["milliliter", "millilitre", "cc", "cm3"], 1e-3),
        row(U::UsQuart, Q::Volume, "US qt", &["qt", "qts", "quart", "quarts"], 0.946_352_946),
        row(U::UsGallon, Q::Volume, "US gal", &["gal", "gallon", "gallons"], 3.785_411_784),
        row(U::ImperialPint, Q::Volume, "imp pt", &["imppint", "imppints", "ukpt", "imppts"], 0.568_261_25),
        row(U::ImperialQuart, Q::Volume, "imp qt", &["impquart", "impquarts", "ukqt"], 1.136_522_5),
        row(U::Millimetre, Q::Length, "mm", &["millimeter", "millimetre"], 1.0),
        row(U::Centimetre, Q::Length, "cm", &["centimeter", "centimetre"], 10.0),
        row(U::Inch, Q::Length, "in", &["inch", "inches", "\"", "″"], 25.4),
        row(U::Kilometre, Q::Distance, "km", &["kilometer", "kilometre", "kilometers", "kilometres"], 1.0),
        row(U::Mile, Q::Distance, "mi", &["mile", "miles"], 1.609_344),
        // An eighth of the US gallon of 231 in³.
        row(U::UsPint, Q::Volume, "US pt", &["pt", "pts", "pint", "pints", "uspint", "uspints"], 0.473_176_473),
        row(U::NewtonCentimetre, Q::Torque, "N·cm", &["ncm", "n-cm"], 1e-2),
        row(U::Milliampere, Q::Current, "mA", &["milliamp", "milliamps", "milliampere", "milliamperes"], 1e-3),
        row(U::Ampere, Q::Current, "A", &["amp", "amps", "ampere", "amperes"], 1.0),
        row(U::Percent, Q::DutyCycle, "%", &["percent", "pct", "prozent"], 1.0),
        row(U::Gigaohm, Q::Resistance, "Gohm", &["g", "gω", "gohms", "gigaohm", "gigaohms"], 1e9),
        // 100 000 Pa (SI brochure, 8th edition, table 8).
        row(U::Bar, Q::Pressure, "bar", &["bars"], 1.0),
        row(U::Kilopascal, Q::Pressure, "kPa", &["kilopascal", "kilopascals"], 1e-2),
        row(U::Megapascal, Q::Pressure, "MPa", &["megapascal", "megapascals"], 10.0),
        // 0.45359237 kg * 9.80665 m/s² / (0.0254 m)²
        row(U::PoundForceSquareInch, Q::Pressure, "psi", &["lbf/in2", "psig"], 0.068_947_572_931_683_6),
        row(U::TurnPerMinute, Q::Speed, "1/min", &["rpm", "u/min", "r/min", "min-1"], 1.0),
    ]
};

impl Unit {
    fn row(self) -> &'static Row {
        // The rows stand in the order of the enum (a test walks them).
        ROWS.get(self as usize).unwrap_or(&ROWS[0])
    }

    /// What it measures.
    pub fn quantity(self) -> Quantity {
        self.row().quantity
    }

    /// How it is written.
    pub fn symbol(self) -> &'static str {
        self.row().symbol
    }

    /// A number in this unit, in the base unit of its quantity.
    pub fn to_base(self, value: f64) -> f64 {
        let row = self.row();
        value * row.scale + row.offset
    }

    /// A number in the base unit of its quantity, in this unit.
    pub fn from_base(self, base: f64) -> f64 {
        let row = self.row();
        (base - row.offset) / row.scale
    }

    /// A difference (such as a resolution) in this unit, in the base unit.
    pub fn difference_to_base(self, difference: f64) -> f64 {
        difference * self.row().scale
    }

    /// Every unit of a quantity, smallest first in the order of the table.
    pub fn of(quantity: Quantity) -> impl Iterator<Item = Unit> {
        ROWS.iter()
            .filter(move |r| r.quantity == quantity)
            .map(|r| r.unit)
    }

    /// The units a typed spelling can mean. The case counts only where it must:
    /// `m` before ohm is milli, `M` mega.
    pub fn spelled(typed: &str) -> Vec<Unit> {
        let plain: String = typed
            .chars()
            .filter(|c| !c.is_whitespace() && !matches!(c, '·' | '⋅' | '∙' | '*' | '.'))
            .map(|c| match c {
                '\u{2126}' | 'Ω' => 'ω',
                '℃' => 'c',
                '℉' => 'f',
                other => other,
            })
            .collect();
        let milli = plain.starts_with('m');
        let lower = plain.to_lowercase();
        let key = if lower != "°" {
            lower.trim_start_matches('°')
        } else {
            &lower
        };
        if matches!(lower.as_str(), "mω" | "mohm" | "mohms") {
            return vec![if milli { Unit::Milliohm } else { Unit::Megaohm }];
        }
        ROWS.iter()
            .filter(|r| {
                r.spellings.contains(&key)
                    || r.symbol
                        .chars()
                        .filter(|c| !matches!(c, ' ' | '·' | '°'))
                        .collect::<String>()
                        .to_lowercase()
                        == key
            })
            .map(|r| r.unit)
            .collect()
    }

    /// Every unit.
    pub fn all() -> impl Iterator<Item = Unit> {
        ROWS.iter().map(|r| r.unit)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_unit_has_its_row() {
        for (at, row) in ROWS.iter().enumerate() {
            assert_eq!(row.unit as usize, at);
            assert_eq!(row.unit.row().symbol, row.symbol);
        }
        assert_eq!(ROWS.len(), Unit::TurnPerMinute as usize + 1);
    }
}
