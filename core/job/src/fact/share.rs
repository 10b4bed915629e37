//! What the customer is let see, and what they say to it.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::id::{CustomerId, EntryId, Sha256Hex};

/// What kind of file a report was made as.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ReportForm {
    /// One self-contained page (HTML).
    Page,
    /// For paper (PDF).
    Paper,
}

/// What a copy of the report does without, so that it can be shown to others.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct LeaveOut {
    /// The customer's name and contact, and who gave the go-ahead.
    pub customer: bool,
    /// The plate, and the VIN but for its last four characters.
    pub car: bool,
    /// Texts that hold a word of the customer's name, and no more of it, stay: it is
    /// an ordinary word there.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    #[ts(as = "Option<bool>", optional)]
    pub keep_texts: bool,
}

impl LeaveOut {
    /// The copy has everything.
    pub fn nothing(&self) -> bool {
        !self.customer && !self.car
    }

    /// A copy of this kind tells nothing that one of the other kind does not.
    pub fn covers(self, other: LeaveOut) -> bool {
        (self.customer || !other.customer)
            && (self.car || !other.car)
            && (!self.keep_texts || other.keep_texts || !other.customer)
    }
}

/// A link by which the customer reads the report and answers it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Share {
    /// SHA-256 of the link's secret: who holds the log can't open the link.
    pub link: Sha256Hex,
    /// SHA-256 of the code that is told by phone, after the secret; `None` where none is asked.
    pub code: Option<Sha256Hex>,
    /// SHA-256 of the report's bytes, which are kept as photos are.
    pub report: Sha256Hex,
    /// What the customer is asked, as they see it.
    pub asked: Asked,
    /// From then on the link opens nothing.
    #[ts(type = "string")]
    pub expires: DateTime<FixedOffset>,
    /// What the report leaves out.
    #[serde(default, skip_serializing_if = "LeaveOut::nothing")]
    #[ts(as = "Option<LeaveOut>", optional)]
    pub leave_out: LeaveOut,
}

/// What stands above the questions, and the questions.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Asked {
    /// Language of all of it, BCP 47.
    pub lang: String,
    /// The shop's name.
    pub shop: String,
    /// Which car.
    pub car: String,
    /// The two sentences that the report begins with, and that the advice was overruled.
    pub short: Vec<String>,
    /// The things advised, each to be answered.
    pub items: Vec<String>,
    /// The job is one of the demo's.
    pub invented: bool,
}

/// What the customer says to one thing that is advised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum AnswerChoice {
    /// Do it.
    Agree,
    /// Leave it.
    Decline,
    /// A question comes first.
    Ask,
}

/// The customer's answer to one thing that is advised.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CustomerAnswer {
    /// The line that shared the report.
    pub share: EntryId,
    /// The thing advised, in the words that they saw.
    pub item: String,
    /// What they say.
    pub choice: AnswerChoice,
    /// What they ask or add; may be empty.
    pub text: String,
    /// Who says it: a reference, so that the name can be erased.
    pub by: CustomerId,
}
