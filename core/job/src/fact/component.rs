//! Electrical parts, their specs and readings.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{ComponentKind, ReadingKind};
use crate::id::EntryId;

/// An electrical part as the maker's diagram names it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Component {
    /// Its name in the maker's diagram.
    pub name: String,
    /// What kind it is.
    pub kind: ComponentKind,
    /// Colour or mark of its connector.
    #[serde(default)]
    pub connector: String,
    /// Part number; parts with the same one are siblings.
    #[serde(default)]
    pub part_number: String,
    /// Codes that the maker's data tie to it.
    #[serde(default)]
    pub codes: Vec<String>,
    /// One wire, the case is its other pole: a path to ground is its winding.
    #[serde(default, skip_serializing_if = "is_false")]
    #[ts(optional, as = "Option<bool>")]
    pub grounded_by_case: bool,
}

fn is_false(flag: &bool) -> bool {
    !flag
}

/// Where a part's temperature was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum TemperatureFrom {
    /// A contact probe held to the part.
    ProbeAtPart,
    /// An infrared thermometer pointed at it.
    Infrared,
    /// The fluid's temperature from the scan data.
    ScanData,
    /// What is around it, after it stood long enough.
    Surroundings,
}

/// One row of a maker's table of a temperature sensor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct SensorRow {
    /// Sensor temperature, °C.
    pub celsius: f64,
    /// Lowest allowed, ohm.
    pub low_ohms: f64,
    /// Highest allowed, ohm.
    pub high_ohms: f64,
}

/// How a temperature sensor's resistance goes with its temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "kind",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum SensorData {
    /// Limits at two or more temperatures, coldest first.
    Table {
        /// Two or more, coldest first.
        rows: Vec<SensorRow>,
    },
    /// One resistance, B, and a tolerance on the resistance at any temperature.
    BValue {
        /// Resistance at `reference_c`, ohm.
        ohms: f64,
        /// °C.
        reference_c: f64,
        /// B in kelvin.
        b_kelvin: f64,
        /// ± percent of the resistance.
        tolerance_percent: f64,
    },
}

/// The maker's limits, entered by the technician.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SpecEntered {
    /// What is limited.
    pub quantity: ReadingKind,
    /// Lower limit in the quantity's unit; `None` where there is none.
    pub low: Option<f64>,
    /// Upper limit in the quantity's unit; `None` where there is none.
    pub high: Option<f64>,
    /// Temperature that the limits hold at, °C.
    pub at_c: Option<f64>,
    /// Where the limits come from, for instance "maker's manual, page 12".
    pub source: String,
    /// For a temperature sensor: its table or B value, instead of `low` and `high`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub sensor: Option<SensorData>,
}

/// One sample as typed, for instance "12.4", "0.4k" or "OL".
pub type Sample = String;

/// The meter's accuracy as its leaflet gives it: ±(percent of reading + counts).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct MeterUsed {
    /// What the technician calls it.
    pub name: String,
    /// Percent of reading.
    pub percent: f64,
    /// Counts of the last digit.
    pub counts: f64,
}

/// A reading of one component as it was typed; the verdict is worked out from it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Reading {
    /// What was read.
    pub quantity: ReadingKind,
    /// Samples, in order, as typed.
    pub samples: Vec<Sample>,
    /// Resistance of the leads held together, as typed.
    #[serde(default)]
    pub leads: Option<String>,
    /// Temperature of the part, °C.
    #[serde(default)]
    pub part_c: Option<f64>,
    /// It may be off by so many kelvin either way; where not said, 1 by a probe at the
    /// part and 3 otherwise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub part_within_k: Option<f64>,
    /// Where that temperature was read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub part_from: Option<TemperatureFrom>,
    /// Test voltage of an insulation tester, volt; `None` for a meter's own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub test_volts: Option<f64>,
    /// Its accuracy, from which the uncertainty follows.
    pub meter: MeterUsed,
    /// Contact was shown with these leads: held together, or on a sibling.
    #[serde(default)]
    pub contact_shown: bool,
    /// A like part that was read with the same leads just before or after: the
    /// line that noted it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub sibling: Option<EntryId>,
    /// The most that the meter can show, as typed; an open to ground says no more than that.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub range_top: Option<Sample>,
    /// How sure one must be to say in or out of spec, 0.5 to 0.9999; 0.95 when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub guard: Option<f64>,
    /// For [`ReadingKind::Applied`], whose samples are amperes: the voltage, and the click.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub applied: Option<Applied>,
    /// A machine read the samples off the meter's display and the technician saw them: the line
    /// of the photo that it read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub display: Option<EntryId>,
}

/// Voltage that was put on a part, and what it did.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Applied {
    /// Volt at the part itself while the current flows, as typed.
    pub volts: Sample,
    /// What the amperes were read by.
    pub by: AmpsBy,
    /// It clicked; `None` where nobody listened.
    #[serde(default)]
    pub click: Option<bool>,
}

/// What amperes were read by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum AmpsBy {
    /// The meter, in line.
    Meter,
    /// A clamp around one wire.
    Clamp,
}

/// A part out and a part in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Replacement {
    /// The component, where it is one of those noted.
    #[serde(default)]
    pub component: Option<EntryId>,
    /// What was replaced.
    pub what: String,
    /// The new part's number.
    #[serde(default)]
    pub number: String,
    /// The new part's batch or date code.
    #[serde(default)]
    pub batch: String,
    /// The old one is kept for the customer.
    #[serde(default)]
    pub kept_for_customer: bool,
}
