//! Taking in: the car, the complaint, the codes, the go-ahead.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The car as it came in.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Car {
    /// Registration plate.
    pub plate: String,
    /// Vehicle identification number, when it was read.
    pub vin: Option<String>,
    /// What one calls it in the shop.
    pub description: String,
    /// Distance driven, km.
    pub odometer_km: Option<f64>,
    /// Odometer when the fluid was last changed, km; `None` when nobody knows.
    pub fluid_changed_at_km: Option<f64>,
    /// What is known of the gearbox itself.
    #[serde(skip_serializing_if = "GearboxHistory::is_empty")]
    #[ts(as = "Option<GearboxHistory>", optional)]
    pub gearbox: GearboxHistory,
}

/// What is known of the gearbox before this visit; asked once, at take-in. `None`: not asked.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct GearboxHistory {
    /// Where the unit comes from.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub unit: Option<GearboxUnit>,
    /// Odometer when a rebuilt or other unit went in, km.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub unit_at_km: Option<f64>,
    /// Whether this is the unit's first service.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub first_service: Option<FirstService>,
    /// Whether the pan was off and the magnets were wiped at the last service.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub pan_wiped: Option<PanWiped>,
}

impl GearboxHistory {
    /// Nothing was asked.
    pub fn is_empty(&self) -> bool {
        *self == GearboxHistory::default()
    }
}

/// Where a gearbox comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum GearboxUnit {
    /// The one that the car was made with.
    Original,
    /// One that was rebuilt with new wearing parts.
    Rebuilt,
    /// Another new one.
    New,
    /// Another used one.
    Used,
    /// Nobody knows.
    Unknown,
}

/// Whether a service is the first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum FirstService {
    /// The first since the unit was new or rebuilt.
    Yes,
    /// There were others.
    No,
    /// Nobody knows.
    Unknown,
}

/// Whether the pan was off and the magnets were wiped at the last service.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PanWiped {
    /// The pan was off and the magnets were wiped.
    Yes,
    /// The fluid was changed with the pan on.
    No,
    /// The pan was never off.
    Never,
    /// Nobody knows.
    Unknown,
}

/// The complaint in the customer's words, and when it shows.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Complaint {
    /// The customer's words.
    pub words: String,
    /// When it shows, by the answers that the procedure offers ("cold", "hot", "up"...).
    pub when: Vec<String>,
    /// What it does, by the answers that the procedure offers ("slips", "noise"...).
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<String>>", optional)]
    pub symptoms: Vec<String>,
}

/// Before anything is cleared, or after the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Moment {
    /// As the car came in.
    Before,
    /// After the road test.
    After,
}

/// How a control unit holds a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum CodeState {
    /// Confirmed and stored.
    Stored,
    /// Seen once, not confirmed.
    Pending,
}

/// A diagnostic trouble code as read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CodeSeen {
    /// The code, for example "P0741" (SAE J2012 / ISO 15031-6).
    pub code: String,
    /// Stored or pending.
    pub state: CodeState,
    /// The status byte that came with it (ISO 14229-1), where the reader shows one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub status: Option<u8>,
}

/// An amount in a currency's smallest unit, as the shop entered it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Money {
    /// Cents, pence, öre.
    pub minor: u32,
    /// ISO 4217 code.
    pub currency: String,
}

/// How the customer agreed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum GoAheadHow {
    /// Face to face.
    InPerson,
    /// By telephone.
    Phone,
    /// In writing.
    Message,
}

/// Leave to open and inspect.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct GoAhead {
    /// Who agreed: the customer, or a name.
    pub by: String,
    /// In person, by telephone or in writing.
    pub how: GoAheadHow,
    /// The most it may cost before asking again.
    pub limit: Option<Money>,
}
