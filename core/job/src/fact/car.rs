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
    /// How.
    pub how: GoAheadHow,
    /// The most it may cost before asking again.
    pub limit: Option<Money>,
}
