//! What can be written down in a job. One variant is one kind of line.
//!
//! A fact is never changed: variants and fields may be added, with a default,
//! but a log written by any earlier version must still be read.

mod car;
mod component;
mod component_kind;
mod cost;
mod harness;
mod observed;
mod parts;
mod photo;
mod reading_kind;
mod share;
mod tools;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

pub use car::{
    Car, CodeSeen, CodeState, Complaint, FirstService, GearboxHistory, GearboxUnit, GoAhead,
    GoAheadHow, Moment, Money, PanWiped,
};
pub use component::{
    AmpsBy, Applied, Component, MeterUsed, Reading, Replacement, Sample, SensorData, SensorRow,
    SpecEntered, TemperatureFrom,
};
pub use component_kind::{ComponentKind, ComponentRow, Inside};
pub use cost::{Cost, CostOf};
pub use harness::{HarnessRead, SideRead};
pub use observed::{AdviceChoice, Measured, Observed};
pub use parts::{AdapterUsed, PartOff, Tightened, TorqueTool};
pub use photo::{Correction, PhotoLink, PhotoSubject};
pub use reading_kind::{DisplayUnit, ReadingKind, ReadingRow};
pub use share::{AnswerChoice, Asked, CustomerAnswer, LeaveOut, ReportForm, Share};
pub use tools::{CardChecked, ToolMark, Tools};

use crate::census::{Census, PhotoHints, PointPx};
use crate::id::{CustomerId, EntryId, Sha256Hex};

/// The name of a step in its procedure.
pub type StepId = String;

/// One kind of line in the log of a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "fact",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Fact {
    /// The job begins, by this procedure.
    Opened {
        /// Id of the procedure.
        procedure: String,
        /// Its version then.
        procedure_version: u32,
    },
    /// From here on this device's lines are by this person.
    WrittenBy {
        /// The technician's name as the report gives it.
        name: String,
    },
    /// From here on this device's lines were typed and read in these units; before it, and
    /// without it, in those that the log holds (km, °C, N·m, l, mm).
    WrittenIn {
        /// What is measured, with the unit's name: "distance" with "mile".
        units: BTreeMap<String, String>,
    },
    /// From here on this device's lines were measured with these tools.
    MeasuredWith {
        /// What is known of them.
        tools: Tools,
    },
    /// The car and its distance; the last such line counts.
    CarNoted {
        /// Everything that is known of it: the line replaces the one before whole.
        car: Car,
    },
    /// Whose car it is.
    CustomerLinked {
        /// Reference to the record outside the log.
        customer: CustomerId,
    },
    /// What the customer says is wrong.
    ComplaintNoted {
        /// Words and symptoms: the line replaces the one before whole.
        complaint: Complaint,
    },
    /// Codes read out, all at once; an empty list says that none was set.
    CodesRead {
        /// Before anything is cleared, or after the work.
        moment: Moment,
        /// What was read.
        codes: Vec<CodeSeen>,
    },
    /// The customer agreed to opening and inspecting.
    GoAheadGiven {
        /// Who, how and up to what cost.
        go_ahead: GoAhead,
    },
    /// A step is done.
    StepTicked {
        /// By its id in the procedure.
        step: StepId,
    },
    /// A step ticked itself: the line `by` brought the last of what it asks for.
    /// It counts as long as that line does.
    StepSettled {
        /// By its id in the procedure.
        step: StepId,
        /// The line that brought it.
        by: EntryId,
    },
    /// A step is left out, for a reason.
    StepSkipped {
        /// By its id in the procedure.
        step: StepId,
        /// Why, in the technician's words.
        reason: String,
    },
    /// Words of the technician's own.
    Noted {
        /// The step it was written at.
        step: StepId,
        /// What it is about, where the procedure asks for it.
        #[serde(default)]
        topic: Option<String>,
        /// As the technician wrote them.
        text: String,
        /// Kept out of the report.
        #[serde(default)]
        private: bool,
    },
    /// One of the answers that the procedure offers.
    Observed {
        /// Step, topic and answer; their fields stand in the line itself.
        #[serde(flatten)]
        observed: Observed,
    },
    /// A number that the procedure asks for.
    Measured {
        /// Step, topic and number; their fields stand in the line itself.
        #[serde(flatten)]
        measured: Measured,
    },
    /// A photo was taken; its bytes were on disk before this line.
    PhotoTaken {
        /// The step it belongs to.
        step: StepId,
        /// Name of its bytes.
        photo: Sha256Hex,
        /// What it shows.
        subject: PhotoSubject,
    },
    /// Taps that help the reading of a photo; the last such line counts.
    PhotoHinted {
        /// The line that took the photo.
        photo: EntryId,
        /// All that were made: the line replaces the one before whole.
        hints: PhotoHints,
    },
    /// The machine read a photo; the last such line counts.
    CensusMade {
        /// The line that took the photo.
        photo: EntryId,
        /// What it says.
        census: Census,
    },
    /// The technician says what one piece is. Tied to the place in the photo,
    /// so that a second census keeps it.
    ParticleCorrected {
        /// The line that took the photo.
        photo: EntryId,
        /// The piece's centre.
        at_px: PointPx,
        /// What it is.
        to: Correction,
    },
    /// Which earlier photo a photo belongs to; the last such line for a photo counts.
    PhotoLinked {
        /// The line that took the photo.
        photo: EntryId,
        /// The line that took the earlier one.
        to: EntryId,
        /// The same patch once more, the same after a magnet, or other ground.
        link: PhotoLink,
    },
    /// The technician stands by the census of a photo as it is now.
    CensusConfirmed {
        /// The line that took the photo.
        photo: EntryId,
    },
    /// Something was taken off the car.
    PartOff {
        /// What, how many, from where.
        part: PartOff,
    },
    /// Some or all of it is back in its place.
    PartBack {
        /// The line that took it off.
        part: EntryId,
        /// How many went back.
        count: u32,
        /// A new one went in for one that was lost or spoilt.
        #[serde(default)]
        replacement: bool,
    },
    /// Some of it is lost or spoilt: a finding, not a way to close.
    PartLost {
        /// The line that took it off.
        part: EntryId,
        /// How many.
        count: u32,
        /// What happened.
        text: String,
    },
    /// An electrical part, found by the maker's diagram.
    ComponentNoted {
        /// Name, kind, connector and the codes that name it.
        component: Component,
    },
    /// The maker's limits for a component; the last such line counts.
    SpecEntered {
        /// The line that noted the component.
        component: EntryId,
        /// Limits of one quantity, with their source.
        spec: SpecEntered,
    },
    /// A reading of a component, as it was typed.
    ReadingTaken {
        /// The line that noted the component.
        component: EntryId,
        /// Samples and leads as they were typed, with meter and temperature.
        reading: Reading,
    },
    /// The wires between a part and its control unit, as they were typed; the last such line counts.
    HarnessRead {
        /// The line that noted the component.
        component: EntryId,
        /// Pin to pin and pin to ground, from both sides.
        read: HarnessRead,
    },
    /// A part came out and another went in.
    PartReplaced {
        /// The step it was done at.
        step: StepId,
        /// Out and in.
        replacement: Replacement,
    },
    /// Bolts were tightened.
    Tightened {
        /// The step it was done at.
        step: StepId,
        /// Torque, passes, bolts and tool; the fields stand in the line itself.
        #[serde(flatten)]
        tightened: Tightened,
    },
    /// What the technician decides at the decision point, with or against the advice.
    Decided {
        /// What the tool advised then.
        advised: AdviceChoice,
        /// What was decided.
        chosen: AdviceChoice,
        /// Why, where it differs.
        reason: Option<String>,
    },
    /// What the shop asks for one thing; the last such line for it counts.
    CostGiven {
        /// For what, and how much.
        #[serde(flatten)]
        cost: Cost,
    },
    /// A report was made from the log as it stood.
    ReportMade {
        /// Hash of the file's bytes.
        sha256: Sha256Hex,
        /// Hash of this device's last entry before it.
        head: Sha256Hex,
        /// As what; early lines do not say it.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        #[ts(optional)]
        form: Option<ReportForm>,
    },
    /// A report that was made is no longer to be relied on. The file and the line that
    /// made it stay.
    ReportWithdrawn {
        /// The line that made it.
        report: EntryId,
        /// Why, as the customer is told.
        reason: String,
    },
    /// The customer may read a report by a link and answer it; taking
    /// this line back closes the link.
    ReportShared {
        /// Which report, until when; of the link's secret the hash alone.
        share: Share,
    },
    /// The customer answered one thing that the report advises; the last for an item counts.
    CustomerAnswered {
        /// For which item, what, and in whose name.
        answer: CustomerAnswer,
    },
    /// An earlier line does not count (undo). A retraction can itself be retracted (redo).
    Retracted {
        /// The one that no longer counts.
        entry: EntryId,
        /// Why, where it was said.
        #[serde(default)]
        reason: Option<String>,
    },
}
