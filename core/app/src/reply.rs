//! What the door answers.

use serde::{Deserialize, Serialize};
use swarfbook_job::id::EntryId;
use ts_rs::TS;

use crate::command::Command;
use crate::settings::Settings;
use crate::view::{
    CodeTableView, CodeView, CostView, JobLine, JobView, LineView, NamedText, PartSet,
    PhotoCensusView, ProcedureView, RecordView, StartView, SyncView, TighteningView, VinView,
};

/// What the door answers a command with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(
    tag = "reply",
    rename_all = "snake_case",
    rename_all_fields = "snake_case"
)]
pub enum Reply {
    /// What the first screen needs.
    Start {
        /// Settings, units to choose from, and where the technician stood.
        start: StartView,
    },
    /// Some of the jobs.
    Jobs {
        /// A line each.
        jobs: Vec<JobLine>,
        /// How many there are that fit the search.
        total: u32,
    },
    /// The job that was asked for, opened or written to.
    Job {
        /// As it stands after the command.
        job: Box<JobView>,
    },
    /// A line was written and is on disk.
    Written {
        /// The one that was written.
        entry: EntryId,
        /// The job after it.
        job: Box<JobView>,
    },
    /// One photo with its pieces.
    Photo {
        /// With the pieces of its last count, corrections applied.
        photo: Box<PhotoCensusView>,
        /// The job as it stands.
        job: Box<JobView>,
    },
    /// The log in words.
    Log {
        /// Its lines, oldest first.
        lines: Vec<LineView>,
    },
    /// A report, to be shown or handed on.
    Report {
        /// The page, with its pictures and typefaces within.
        html: String,
        /// SHA-256 of its bytes.
        sha256: String,
    },
    /// Texts of the log that hold what a copy leaves out, to be read before it is made:
    /// they stand in it whole or not at all.
    NamedTexts {
        /// In the order of writing.
        texts: Vec<NamedText>,
    },
    /// What an amount can be given for, this visit's work first.
    Costs {
        /// One for each item that can have a price.
        costs: Vec<CostView>,
    },
    /// The customer's link.
    Shared {
        /// Its address, with the secret.
        url: String,
        /// The same as a QR code (SVG); none of a link that leads to this machine only.
        qr_svg: Option<String>,
        /// The code to tell by phone, where one is asked.
        code: Option<String>,
        /// Until when it is open, in words.
        expires: String,
        /// Why no customer can open it, where its address is of this machine alone.
        here_only: Option<String>,
        /// The job after it.
        job: Box<JobView>,
    },
    /// A page for the customer.
    Page {
        /// HTML without scripts.
        html: String,
    },
    /// A report for paper.
    ReportPdf {
        /// PDF, base64: every carrier has text, not every one has bytes.
        base64: String,
        /// SHA-256 of its bytes.
        sha256: String,
    },
    /// The gauge card's sheet.
    GaugeCard {
        /// The PDF's bytes, base64.
        base64: String,
    },
    /// How often the machine was right.
    Record {
        /// Over the pieces that technicians looked at, in the whole shop.
        record: Box<RecordView>,
    },
    /// How this device is set.
    Settings {
        /// As they are after the command.
        settings: Settings,
    },
    /// The procedures at hand.
    Procedures {
        /// A line each.
        procedures: Vec<ProcedureView>,
    },
    /// What was typed, as numbers.
    Numbers {
        /// Each in the core's unit of its quantity (km, °C, N·m, l, mm, ohm, V, Hz), in the
        /// order asked; `None` where nothing was typed, or a meter's "open".
        numbers: Vec<Option<f64>>,
    },
    /// A VIN read from its bar code.
    Vin {
        /// With what its check digit and year say.
        vin: VinView,
    },
    /// A tightening as it would go.
    Tightening {
        /// Order of the bolts, passes, and what to set.
        plan: Box<TighteningView>,
    },
    /// The parts of gearboxes that were kept by name.
    PartSets {
        /// By their names.
        sets: Vec<PartSet>,
    },
    /// What codes point at.
    CodeTable {
        /// How many rows, and the shop's own as text.
        table: CodeTableView,
    },
    /// A code taken apart.
    Code {
        /// In its one form, with what its structure says.
        code: CodeView,
    },
    /// How the exchange with the hub stands.
    Sync {
        /// After the command.
        sync: SyncView,
    },
    /// Done; there is nothing to show.
    Done {},
}

/// The reply that each command gets, or which of several, told once: to the door, which gives no other, and to
/// the screens, whose types follow from it.
macro_rules! answers {
    ($($command:ident => $($reply:ident)|+,)*) => {
        /// Each command with the replies that it may get, as both are called here.
        pub const ANSWERS: &[(&str, &[&str])] = &[
            $((stringify!($command), &[$(stringify!($reply)),+]),)*
        ];

        /// Whether a reply is the one that this command gets.
        pub(crate) fn answers(command: &Command) -> fn(&Reply) -> bool {
            match command {
                $(Command::$command { .. } => |reply| matches!(reply, $(Reply::$reply { .. })|+),)*
            }
        }
    };
}

answers! {
    Start => Start,
    Jobs => Jobs,
    OpenJob => Job,
    Job => Job,
    Write => Written,
    WriteDisplayed => Written,
    Undo => Job,
    Retract => Job,
    TakeCensus => Photo,
    Photo => Photo,
    SaveCustomer => Job,
    EraseCustomer => Done,
    Log => Log,
    PreviewReport => Report,
    NamedTexts => NamedTexts,
    Costs => Costs,
    MakeReport => Report,
    ShareReport => Shared,
    OpenShared => Page,
    // A report that was withdrawn meanwhile is a page that says so.
    ReadShared => Report | Page,
    AnswerShared => Page,
    MakeReportPdf => ReportPdf,
    KeepDraft => Done,
    StandAt => Done,
    GaugeCard => GaugeCard,
    Record => Record,
    Settings => Settings,
    SaveSettings => Settings,
    Procedures => Procedures,
    AddProcedure => Procedures,
    PlanTightening => Tightening,
    CodeTable => CodeTable,
    SetCodeTable => CodeTable,
    ReadNumbers => Numbers,
    ReadCode => Code,
    ReadVin => Vin,
    PartSets => PartSets,
    SavePartSet => PartSets,
    ForgetPartSet => PartSets,
    Pair => Sync,
    SyncNow => Sync,
    SyncState => Sync,
}
