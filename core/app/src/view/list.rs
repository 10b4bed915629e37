//! Lists: jobs, procedures, the first screen.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::MeterUsed;
use swarfbook_job::id::JobId;
use swarfbook_measure::unit::{Quantity, Unit, Units};
use ts_rs::TS;

use crate::settings::Settings;

/// One job in the list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct JobLine {
    /// By which commands name it.
    pub id: JobId,
    /// Plate, or what there is.
    pub title: String,
    /// Description and complaint, short.
    pub subtitle: String,
    /// The stage in hand, in words.
    pub stage: String,
    /// Stages done or left out, of all: for the small spine.
    pub stages_done: u32,
    /// All stages.
    pub stages: u32,
    /// When its last line was written, RFC 3339.
    pub touched: String,
    /// It is of the invented demo.
    pub demo: bool,
}

/// What the first screen needs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct StartView {
    /// How this device is set.
    pub settings: Settings,
    /// Nobody has set it yet.
    pub first_run: bool,
    /// Where the technician stood when the app ended.
    pub job: Option<JobId>,
    /// The step or screen of that job.
    pub place: String,
    /// How many jobs there are.
    pub jobs: u32,
    /// The store holds the invented demo shop.
    pub demo: bool,
    /// Generic grades of meters to choose from.
    pub meters: Vec<MeterUsed>,
    /// The units to choose from.
    pub units: Vec<UnitOffered>,
    /// Usual sets of them, each one press.
    pub unit_sets: Vec<UnitSet>,
    /// This is the shop's hub, not a phone that pairs with one.
    pub is_hub: bool,
    /// Said when storage runs low.
    pub storage_warning: Option<String>,
}

/// A unit that numbers can be typed and read in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct UnitOffered {
    /// What it measures.
    pub quantity: Quantity,
    /// By which settings and commands name it.
    pub unit: Unit,
    /// How it is written: "°F".
    pub symbol: String,
    /// The core's number of that quantity is this number times `scale`, and `offset` more.
    pub scale: f64,
    /// See `scale`.
    pub offset: f64,
}

/// Units that go together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct UnitSet {
    /// The regions whose workshops use it, as in a language's tag ("US"); none: all others.
    pub regions: Vec<String>,
    /// One for each quantity.
    pub units: Units,
}

/// A procedure at hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ProcedureView {
    /// Its name in the log.
    pub id: String,
    /// From 1; a job is told by the one that it was opened with.
    pub version: u32,
    /// What the technician reads.
    pub title: String,
    /// It ships with the tool.
    pub built_in: bool,
    /// How many steps.
    pub steps: u32,
}

/// What codes point at, as far as this device knows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CodeTableView {
    /// Version of the table that ships, and of the shop's.
    pub version: String,
    /// Rows in all.
    pub rows: u32,
    /// Rows of the shop's own; they come first.
    pub shop_rows: u32,
    /// The shop's file; empty when there is none.
    pub shop: String,
}

/// How the exchange with the hub stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct SyncView {
    /// The hub's address, when paired.
    pub hub: Option<String>,
    /// When it last went through, RFC 3339.
    pub last: Option<String>,
    /// Lines that the hub does not have yet.
    pub lines_waiting: u32,
    /// Photos that the hub does not have yet.
    pub photos_waiting: u32,
    /// The last thing to say about it.
    pub words: String,
}
