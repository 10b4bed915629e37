//! How a device is set: whose hand, whose name, which paper.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{AmpsBy, ComponentKind, MeterUsed, ReadingKind, Tools};
use swarfbook_measure::unit::Units;
use swarfbook_measure::vin::Market;
use swarfbook_words::Language;
use ts_rs::TS;

/// Which thumb works.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Hand {
    /// The right one: the screen as it is drawn.
    #[default]
    Right,
    /// Left: the screen is mirrored.
    Left,
}

/// How the screen looks.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Paper {
    /// Dark, for under the car.
    #[default]
    Bay,
    /// Light, for the desk and for sunlight.
    Desk,
}

/// What was chosen last in this shop, of what seldom changes from job to job: it stands chosen
/// in the next one, in sight and to be changed.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct LastChoices {
    /// Where limits stood.
    pub source: String,
    /// The units that meters' displays showed.
    pub read_in: Vec<ReadIn>,
    /// What amperes were read by.
    pub amps_by: Option<AmpsBy>,
}

/// The unit that stood beside the number on a meter's display, for like parts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ReadIn {
    /// What was read.
    pub quantity: ReadingKind,
    /// Of what kind of part.
    pub kind: ComponentKind,
    /// The meter's name.
    pub meter: String,
    /// The unit, as the display shows it.
    pub symbol: String,
}

/// How this device is set.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Settings {
    /// The technician's name as the report gives it.
    pub technician: String,
    /// The shop's name as the report gives it.
    pub shop: String,
    /// The shop's address, as the report gives it.
    pub address: String,
    /// The shop's telephone number, as the report gives it.
    pub telephone: String,
    /// The hand whose thumb reaches the keys.
    pub hand: Hand,
    /// Dark or light ground of the screens.
    pub paper: Paper,
    /// Bigger and fewer: for gloves.
    pub glove: bool,
    /// No sound and no vibration after a reading.
    pub quiet: bool,
    /// The meter last used.
    pub meter: Option<MeterUsed>,
    /// What is known of the tools: serial numbers, calibration, the gauge card's check.
    pub tools: Tools,
    /// How sure a reading must be to be called in or out of spec, 0.5 to 0.9999;
    /// 0.95 when not chosen.
    pub guard: Option<f64>,
    /// Where the cars were sold, for the VIN's check digit and model year.
    pub market: Option<Market>,
    /// Class probabilities of new counts are calibrated to what the shop's technicians confirmed.
    pub calibrated: bool,
    /// The units that numbers are typed and read in.
    pub units: Units,
    /// The language of the screens and of what the core says; English when not chosen.
    pub language: Option<Language>,
}
