//! What can be asked at the door.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{AdapterUsed, AnswerChoice, Fact, LeaveOut, Reading, TorqueTool};
use swarfbook_job::id::{CustomerId, EntryId, JobId, Sha256Hex};
use swarfbook_measure::unit::Quantity;
use ts_rs::TS;

use crate::settings::Settings;
use swarfbook_words::Language;

/// The paper that a report is made for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Sheet {
    /// 210 x 297 mm.
    #[default]
    A4,
    /// 8.5 x 11 in.
    Letter,
}

/// What is known of a tightening before it begins.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TighteningAsked {
    /// What is tightened, as the procedure names it.
    pub what: String,
    /// The maker's torque as typed, with its unit; empty when to feel.
    pub torque: String,
    /// Passes up to the full torque, 1 to 5.
    pub rounds: u32,
    /// A sealant sets: no last round.
    #[serde(default)]
    pub sealant: bool,
    /// How many bolts; `None`: those tapped on a photo, or that came off the pan.
    #[serde(default)]
    pub bolts: Option<u32>,
    /// An adapter on the wrench.
    #[serde(default)]
    pub adapter: Option<AdapterUsed>,
    /// The torque tool.
    #[serde(default)]
    pub tool: Option<TorqueTool>,
    /// Turned on by so many degrees after the torque, as typed; empty where the maker
    /// asks for torque alone.
    #[serde(default)]
    pub angle: String,
    /// The technician was asked about the torque and stands by it.
    #[serde(default)]
    pub sure: bool,
}

/// A number as it was typed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct NumberTyped {
    /// What the screen calls it, for the sentence when it can't be read.
    pub name: String,
    /// As typed; empty where nothing was.
    pub typed: String,
    /// What it measures; `None` for a number without a unit.
    #[serde(default)]
    pub quantity: Option<Quantity>,
}

/// What kind of copy of a report is asked for.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct CopyAsked {
    /// What it does without.
    pub leave_out: LeaveOut,
    /// The language that the customer reads; the device's when none is named.
    pub language: Option<Language>,
}

/// One request. The shell, the hub and the command line carry it unread.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "do",
    rename_all = "snake_case",
    rename_all_fields = "snake_case",
    deny_unknown_fields
)]
pub enum Command {
    /// What the first screen needs. Answer: `start`.
    Start {},
    /// Jobs, newest line first. Answer: `jobs`.
    Jobs {
        /// Words to find in plate, description and customer; empty for all.
        #[serde(default)]
        search: String,
        /// How many to leave out at the front.
        #[serde(default)]
        skip: u32,
        /// How many at the most; at most 200.
        limit: u32,
    },
    /// A new job by a procedure; the built-in one when none is named. Answer: `job`.
    OpenJob {
        /// Id of the procedure.
        #[serde(default)]
        procedure: Option<String>,
    },
    /// One job whole. Answer: `job`.
    Job {
        /// The one that is looked at.
        job: JobId,
    },
    /// Writes one line. Answer: `written`.
    Write {
        /// The one that the line belongs to.
        job: JobId,
        /// What it says; the core puts in id, time and device.
        fact: Box<Fact>,
        /// The technician was asked about a doubt and stands by what was entered.
        #[serde(default)]
        sure: bool,
    },
    /// Writes a reading that a machine read off a meter's display, with the photo that shows it:
    /// both, or nothing where the reading is refused. Answer: `written`, of the reading.
    WriteDisplayed {
        /// The one that both lines belong to.
        job: JobId,
        /// The step that it is read at.
        step: String,
        /// The photo, whose bytes are kept already.
        photo: Sha256Hex,
        /// The part: the line that noted it.
        component: EntryId,
        /// The reading; its photo's line is put in.
        reading: Box<Reading>,
        /// As for `write`.
        #[serde(default)]
        sure: bool,
    },
    /// Takes back this device's last line that counts. Answer: `job`.
    Undo {
        /// The one whose last line is meant.
        job: JobId,
    },
    /// Takes back one line. Answer: `job`.
    Retract {
        /// The one that the line belongs to.
        job: JobId,
        /// It stays in the log, and counts no more.
        entry: EntryId,
        /// In the technician's words; `None` where none was asked.
        #[serde(default)]
        reason: Option<String>,
    },
    /// Reads a photo again or for the first time, and writes the census. Answer: `photo`.
    TakeCensus {
        /// The one that the photo belongs to.
        job: JobId,
        /// The line that took the photo.
        photo: EntryId,
    },
    /// One photo with every piece of its census. Answer: `photo`.
    Photo {
        /// The one that the photo belongs to.
        job: JobId,
        /// The line that took the photo.
        photo: EntryId,
    },
    /// Keeps a customer's name and contact apart from the log, and links it. Answer: `job`.
    SaveCustomer {
        /// The one whose car it is.
        job: JobId,
        /// As they are to be called in lists and reports.
        name: String,
        /// Telephone, mail: whatever reaches them.
        contact: String,
    },
    /// Erases a customer's name and contact; the log stays whole. Answer: `done`.
    EraseCustomer {
        /// As the job's view names them.
        customer: CustomerId,
    },
    /// The whole log of a job in words. Answer: `log`.
    Log {
        /// The one that is read.
        job: JobId,
    },
    /// The report as it would be now; writes nothing. Answer: `report`.
    PreviewReport {
        /// The one that the report is of.
        job: JobId,
        /// What the copy does without.
        #[serde(default)]
        leave_out: LeaveOut,
        /// The language that the customer reads; the device's when none is named.
        #[serde(default)]
        language: Option<Language>,
    },
    /// Which texts hold what a copy of the report is to leave out; asked before it is made.
    /// Answer: `named_texts`.
    NamedTexts {
        /// The one that the report is of.
        job: JobId,
        /// What the copy does without.
        #[serde(default)]
        leave_out: LeaveOut,
    },
    /// What an amount can be given for in the report. Answer: `costs`.
    Costs {
        /// The one that the report is of.
        job: JobId,
    },
    /// Makes the report and writes that it was made. Answer: `report`.
    MakeReport {
        /// The one that the report is of.
        job: JobId,
        /// What the copy does without.
        #[serde(default)]
        leave_out: LeaveOut,
        /// The language that the customer reads; the device's when none is named.
        #[serde(default)]
        language: Option<Language>,
    },
    /// Makes the report and a link by which the customer reads and answers it.
    /// Answer: `shared`. The link's secret is in the answer only: it can't be shown again.
    ShareReport {
        /// The one that the report is of.
        job: JobId,
        /// The hub's address as this screen knows it; `None` for the hub that this device is paired with.
        #[serde(default)]
        base: Option<String>,
        /// How long the link stays open.
        days: u32,
        /// Ask for a code that is told by phone.
        #[serde(default)]
        with_code: bool,
        /// What the copy does without.
        #[serde(default)]
        leave_out: LeaveOut,
        /// The language that the customer reads; the device's when none is named.
        #[serde(default)]
        language: Option<Language>,
    },
    /// What the customer's link opens. Answer: `page`.
    OpenShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
        /// Go on from a report that was withdrawn or superseded to the one in its place.
        #[serde(default)]
        newest: bool,
    },
    /// The report behind a customer's link. Answer: `report`.
    ReadShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
        /// Go on from a report that was withdrawn or superseded to the one in its place.
        #[serde(default)]
        newest: bool,
    },
    /// The customer's answers by a link. Answer: `page`.
    AnswerShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
        /// Go on from a report that was withdrawn or superseded to the one in its place.
        #[serde(default)]
        newest: bool,
        /// Name of the one who answers, as they type it.
        name: String,
        /// What they say.
        answers: Vec<ItemAnswer>,
    },
    /// Makes the report for paper and writes that it was made. Answer: `report_pdf`.
    MakeReportPdf {
        /// The one that the report is of.
        job: JobId,
        /// The paper; A4 when none is named.
        #[serde(default)]
        sheet: Sheet,
        /// What the copy does without.
        #[serde(default)]
        leave_out: LeaveOut,
        /// The language that the customer reads; the device's when none is named.
        #[serde(default)]
        language: Option<Language>,
    },
    /// Keeps what is half typed, so that it survives a kill. Answer: `done`.
    KeepDraft {
        /// The one that it belongs to.
        job: JobId,
        /// Which field, by the screen's own name for it.
        field: String,
        /// What stands in it; empty forgets it.
        text: String,
    },
    /// Keeps where the technician stands, so that the app opens there again. Answer: `done`.
    StandAt {
        /// The job; `None` for the list.
        job: Option<JobId>,
        /// The step, or another screen of the job.
        #[serde(default)]
        place: String,
    },
    /// The gauge card's sheet, to print. Answer: `gauge_card`.
    GaugeCard {
        /// The language of its words; the device's when none is named.
        #[serde(default)]
        language: Option<Language>,
    },
    /// How often the machine was right, over the shop's own photos. Answer: `record`.
    Record {},
    /// How this device is set. Answer: `settings`.
    Settings {},
    /// Sets this device. Answer: `settings`.
    SaveSettings {
        /// All of them: they replace those of before.
        settings: Settings,
    },
    /// The procedures at hand. Answer: `procedures`.
    Procedures {},
    /// Adds a shop's own procedure, or a new version of one. Answer: `procedures`.
    AddProcedure {
        /// The file's text (TOML).
        text: String,
    },
    /// What codes point at. Answer: `code_table`.
    CodeTable {},
    /// Sets the shop's own rows of that table; empty text takes them away. Answer: `code_table`.
    SetCodeTable {
        /// The file's text (TOML).
        text: String,
    },
    /// What was typed, read in this device's units where no other is typed with it;
    /// writes nothing. Answer: `numbers`.
    ReadNumbers {
        /// Numbers in the order in which the answer gives them.
        typed: Vec<NumberTyped>,
    },
    /// A code as a reader shows it, in its one form and taken apart. Answer: `code`.
    ReadCode {
        /// "P0741", "P0741-1C"; or with `bytes` "07 41", "07411C".
        typed: String,
        /// It is in bytes, hexadecimal.
        #[serde(default)]
        bytes: bool,
    },
    /// A VIN out of a photo of its bar code; the photo's bytes are in the store. Answer: `vin`.
    ReadVin {
        /// Name of its bytes.
        photo: Sha256Hex,
    },
    /// A tightening as it would go: order, passes, what to set; writes nothing. Answer: `tightening`.
    PlanTightening {
        /// The one whose bolts are tightened.
        job: JobId,
        /// What is known of it.
        asked: TighteningAsked,
    },
    /// The parts of gearboxes that were kept by name. Answer: `part_sets`.
    PartSets {},
    /// Keeps the parts of a job with their limits by the name of the gearbox. Answer: `part_sets`.
    SavePartSet {
        /// The one whose parts are kept.
        job: JobId,
        /// The gearbox, as the shop calls it; what was kept by that name is replaced.
        name: String,
    },
    /// Forgets the parts that were kept by a name. Answer: `part_sets`.
    ForgetPartSet {
        /// As the parts were kept by.
        name: String,
    },
    /// Pairs this device with the shop's hub. Answer: `sync`.
    Pair {
        /// Address, for instance "https://192.0.2.7:8350".
        address: String,
        /// The one-time code that the hub shows.
        code: String,
        /// SHA-256 of the certificate that it must show, in hexadecimal: at least the first
        /// 20 digits; empty for a hub on this machine.
        #[serde(default)]
        fingerprint: String,
    },
    /// Exchanges with the hub what either lacks. Answer: `sync`.
    SyncNow {},
    /// How the exchange with the hub stands. Answer: `sync`.
    SyncState {},
}

impl Command {
    /// What of it keeps a core busy for longer than a moment: who carries many callers lets few of these run at a time.
    pub fn long_work(&self) -> Option<LongWork> {
        match self {
            Command::TakeCensus { .. } => Some(LongWork::Photo),
            Command::PreviewReport { .. }
            | Command::MakeReport { .. }
            | Command::MakeReportPdf { .. }
            | Command::GaugeCard { .. } => Some(LongWork::Report),
            _ => None,
        }
    }
}

/// What takes long, by what the technician waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LongWork {
    /// Pieces are counted in a photo, or a photo is taken in.
    Photo,
    /// Pages are set.
    Report,
}

/// The customer's answer to one thing advised.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ItemAnswer {
    /// Which, from 0.
    pub item: u32,
    /// What they chose; `None` while nothing is.
    pub choice: Option<AnswerChoice>,
    /// What they ask or add.
    #[serde(default)]
    pub text: String,
}
