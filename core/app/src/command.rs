//! What can be asked at the door.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{AnswerChoice, Fact};
use swarfbook_job::id::{CustomerId, EntryId, JobId};
use ts_rs::TS;

use crate::settings::Settings;

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
        /// The job.
        job: JobId,
    },
    /// Writes one line. Answer: `written`.
    Write {
        /// The job.
        job: JobId,
        /// The line.
        fact: Box<Fact>,
        /// The technician was asked about a doubt and stands by what was entered.
        #[serde(default)]
        sure: bool,
    },
    /// Takes back this device's last line that counts. Answer: `job`.
    Undo {
        /// The job.
        job: JobId,
    },
    /// Takes back one line. Answer: `job`.
    Retract {
        /// The job.
        job: JobId,
        /// The line.
        entry: EntryId,
        /// Why.
        #[serde(default)]
        reason: Option<String>,
    },
    /// Reads a photo again or for the first time, and writes the census. Answer: `photo`.
    TakeCensus {
        /// The job.
        job: JobId,
        /// The line that took the photo.
        photo: EntryId,
    },
    /// One photo with every piece of its census. Answer: `photo`.
    Photo {
        /// The job.
        job: JobId,
        /// The line that took the photo.
        photo: EntryId,
    },
    /// Keeps a customer's name and contact apart from the log, and links it. Answer: `job`.
    SaveCustomer {
        /// The job.
        job: JobId,
        /// Name.
        name: String,
        /// Telephone, mail: whatever reaches them.
        contact: String,
    },
    /// Erases a customer's name and contact; the log stays whole. Answer: `done`.
    EraseCustomer {
        /// The customer.
        customer: CustomerId,
    },
    /// The whole log of a job in words. Answer: `log`.
    Log {
        /// The job.
        job: JobId,
    },
    /// The report as it would be now; writes nothing. Answer: `report`.
    PreviewReport {
        /// The job.
        job: JobId,
    },
    /// Makes the report and writes that it was made. Answer: `report`.
    MakeReport {
        /// The job.
        job: JobId,
    },
    /// Makes the report and a link by which the customer reads and answers it.
    /// Answer: `shared`. The link's secret is in the answer only: it can't be shown again.
    ShareReport {
        /// The job.
        job: JobId,
        /// The hub's address as this screen knows it; `None` for the hub that this device is paired with.
        #[serde(default)]
        base: Option<String>,
        /// How long the link stays open.
        days: u32,
        /// Ask for a code that is told by phone.
        #[serde(default)]
        with_code: bool,
    },
    /// What the customer's link opens. Answer: `page`.
    OpenShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
    },
    /// The report behind a customer's link. Answer: `report`.
    ReadShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
    },
    /// The customer's answers by a link. Answer: `page`.
    AnswerShared {
        /// The link's secret.
        secret: String,
        /// The code; empty where none is asked.
        #[serde(default)]
        code: String,
        /// Who answers.
        name: String,
        /// What they say.
        answers: Vec<ItemAnswer>,
    },
    /// Keeps what is half typed, so that it survives a kill. Answer: `done`.
    KeepDraft {
        /// The job.
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
    /// How this device is set. Answer: `settings`.
    Settings {},
    /// Sets this device. Answer: `settings`.
    SaveSettings {
        /// How.
        settings: Settings,
    },
    /// The procedures at hand. Answer: `procedures`.
    Procedures {},
    /// Adds a shop's own procedure, or a new version of one. Answer: `procedures`.
    AddProcedure {
        /// The file's text (TOML).
        text: String,
    },
    /// Pairs this device with the shop's hub. Answer: `sync`.
    Pair {
        /// Address, for instance "http://192.0.2.7:8080".
        address: String,
        /// The one-time code that the hub shows.
        code: String,
    },
    /// Exchanges with the hub what either lacks. Answer: `sync`.
    SyncNow {},
    /// How the exchange with the hub stands. Answer: `sync`.
    SyncState {},
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
