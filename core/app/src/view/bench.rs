//! Components, readings and parts off.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::PointPx;
use swarfbook_job::fact::{Component, ComponentKind, HarnessRead, ReadingKind, SpecEntered};
use swarfbook_job::id::EntryId;
use swarfbook_measure::conformity::ReadingVerdict;
use ts_rs::TS;

/// What a reading comes to, as it is shown from a metre off: each has a shape of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ReadingCall {
    /// In spec, or no path where there must be none.
    Good,
    /// Out of spec.
    Out,
    /// Too close to call.
    TooClose,
    /// A path to ground.
    Short,
    /// No path where there must be one.
    Open,
    /// To be taken again.
    Again,
    /// Nothing to hold it against.
    NotJudged,
}

/// One reading with its verdict.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReadingView {
    /// The one that the reading was written as.
    pub entry: EntryId,
    /// When, RFC 3339.
    pub at: String,
    /// What was read.
    pub quantity: ReadingKind,
    /// "37.8 ohm".
    pub value_words: String,
    /// The value that the spec is held against (corrected), in its unit.
    pub value: Option<f64>,
    /// Its expanded uncertainty (k = 2).
    pub u: Option<f64>,
    /// Lower limit that it was held against, in its unit: for a temperature
    /// sensor that of its temperature.
    pub low: Option<f64>,
    /// Upper limit.
    pub high: Option<f64>,
    /// What the core made of it.
    pub verdict: ReadingVerdict,
    /// Probability that the part is in spec.
    pub p_in_spec: Option<f64>,
    /// What it comes to.
    pub call: ReadingCall,
    /// That in a word or two: "out of spec".
    pub call_words: String,
    /// "out of spec, certain".
    pub verdict_words: String,
    /// What to do next.
    pub ask: Option<String>,
    /// How it was worked out, line by line.
    pub steps: Vec<String>,
    /// It is of a part that is no longer in the car.
    pub of_replaced: bool,
    /// The photo of the meter's display that a machine read it off.
    pub display: Option<EntryId>,
}

/// An electrical part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ComponentView {
    /// The line that noted it.
    pub entry: EntryId,
    /// As it was noted: "Solenoid A".
    pub name: String,
    /// What kind.
    pub kind: ComponentKind,
    /// That, in words.
    pub kind_words: String,
    /// As the maker's diagram names it; may be empty.
    pub connector: String,
    /// Part number.
    pub part_number: String,
    /// Codes that name it.
    pub codes: Vec<String>,
    /// One for each quantity that has any.
    pub specs: Vec<SpecEntered>,
    /// "21 to 25 ohm at 20 °C".
    pub spec_words: String,
    /// Readings, oldest first.
    pub readings: Vec<ReadingView>,
    /// What siblings say.
    pub sibling_words: Option<String>,
    /// It was replaced.
    pub replaced: bool,
    /// How the part in the car stands: the worst over its newest reading of each
    /// quantity, since it was put in; `None` where none gave a verdict.
    pub standing: Option<ReadingVerdict>,
    /// How the part that the car came in with stood.
    pub as_found: Option<ReadingVerdict>,
    /// One wire; its case is the other pole.
    pub grounded_by_case: bool,
    /// Quantities that say nothing of this kind of part.
    pub unread: Vec<ReadingKind>,
    /// Its wires, where they were read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub harness: Option<HarnessView>,
}

/// What a stretch of a harness comes to: each is drawn in its own way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum StretchCall {
    /// What was read does not tell.
    NotTold,
    /// Nothing speaks against it.
    Sound,
    /// The wire is broken.
    Open,
    /// Too many ohms.
    Resistive,
    /// A path to ground.
    ToGround,
    /// A path from wire to wire.
    Together,
}

/// One stretch of a harness.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct StretchView {
    /// What it comes to.
    pub call: StretchCall,
    /// It may be the other wire as well.
    pub either: bool,
    /// In words: "first wire: open".
    pub words: String,
}

/// The wires of a part, as they were read last, and what that tells.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HarnessView {
    /// What was typed.
    pub read: HarnessRead,
    /// The two wires.
    pub wires: [StretchView; 2],
    /// What lies between them.
    pub between: StretchView,
    /// What lies behind both wires.
    pub part: StretchView,
    /// What to read next, where that tells more.
    pub next: Option<String>,
}

/// An electrical part as it is noted, with the maker's limits and their source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PartNoted {
    /// As a new job notes it.
    pub component: Component,
    /// One for each quantity that has any.
    pub specs: Vec<SpecEntered>,
}

/// The electrical parts of a kind of gearbox.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PartSet {
    /// The gearbox, as the shop calls it.
    pub name: String,
    /// In the order in which they were noted.
    pub parts: Vec<PartNoted>,
}

/// What the codes and readings say about the complaint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ExplainView {
    /// In its one form: "P0741".
    pub code: String,
    /// "explains", "does not explain", "can't tell".
    pub verdict_words: String,
    /// In a sentence.
    pub reason: String,
}

/// One bolt in the picture of a tightening.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct BoltView {
    /// Share of the picture's width, 0 to 1.
    pub x: f64,
    /// Share of its height.
    pub y: f64,
    /// Its turn in the cross order, from 1.
    pub turn: u32,
}

/// One pass over the bolts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PassView {
    /// "Crosswise to 3.3 N·m".
    pub words: String,
    /// At the bolt, N·m; `None` by hand.
    pub torque_nm: Option<f64>,
    /// What to set with the adapter, N·m; `None` where it is the torque itself.
    pub set_nm: Option<f64>,
    /// That, in words.
    pub set_words: Option<String>,
    /// No tool: every bolt started by hand.
    pub by_hand: bool,
    /// Where the tool does not reach: its scale begins above this pass.
    pub scale_words: Option<String>,
}

/// A tightening as it would go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TighteningView {
    /// The torque, N·m; `None` to feel.
    pub torque_nm: Option<f64>,
    /// The same in all units; empty to feel.
    pub torque_words: String,
    /// A question before the torque is believed; until it is answered no pass with a
    /// tool is shown.
    pub doubt: Option<String>,
    /// The same number in the unit that is asked about, as it would be typed.
    pub doubt_instead: Option<String>,
    /// What the tool's accuracy means at the bolt.
    pub tool_words: Option<String>,
    /// The bolts; empty where there is one, or their number is not known.
    pub bolts: Vec<BoltView>,
    /// Width to height of their picture.
    pub aspect: f64,
    /// The photo that their places were tapped on.
    pub photo: Option<EntryId>,
    /// Where the places come from.
    pub places_words: String,
    /// First to last.
    pub passes: Vec<PassView>,
    /// What to heed.
    pub cautions: Vec<String>,
}

/// Something that came off.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PartView {
    /// The line that took it off.
    pub entry: EntryId,
    /// "4 bolts M6 x 25 from the front edge".
    pub words: String,
    /// How many came off.
    pub count: u32,
    /// How many are still off.
    pub off: u32,
    /// How many were lost.
    pub lost: u32,
    /// What was said of those.
    pub lost_words: Option<String>,
    /// A photo of where it goes.
    pub photo: Option<EntryId>,
    /// The places in that photo, px of the upright picture.
    pub at_px: Vec<PointPx>,
    /// What stands at each place: "25" for bolts of 25 mm, else the size; may be empty.
    pub mark: String,
}
