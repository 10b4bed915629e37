//! One job as the screens show it.

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::{AdviceChoice, Car, CodeState, Complaint, GoAhead};
use swarfbook_job::id::{CustomerId, EntryId, JobId};
use swarfbook_job::procedure::{Choice, Want};
use swarfbook_judge::course::Standing;
use swarfbook_measure::unit::Quantity;
use ts_rs::TS;

use crate::settings::LastChoices;

use super::{
    AnswerView, ComponentView, ExplainView, LinkView, PartView, PhotoView, ReportView, WearView,
};

/// A code as read, in its structure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CodeView {
    /// In its one form: "P0741", "P0741-1C".
    pub code: String,
    /// Stored or pending.
    pub state: CodeState,
    /// What its structure says, for instance "transmission, meaning set by the standard".
    pub words: String,
    /// As a control unit sends it: "07 41".
    pub bytes: String,
    /// The status byte, where one was read.
    pub status: Option<u8>,
    /// What it says: a sentence, then each bit that is set; empty without one.
    pub status_words: Vec<String>,
}

/// A VIN read from its bar code.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct VinView {
    /// 17 letters and figures.
    pub vin: String,
    /// What it says: a check digit that does not agree, the years it can mean.
    pub words: Vec<String>,
    /// "Code 39".
    pub format: String,
}

/// A customer, from beside the log.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CustomerView {
    /// By which the log names them.
    pub id: CustomerId,
    /// Name; empty when erased.
    pub name: String,
    /// Contact; empty when erased.
    pub contact: String,
    /// Name and contact were erased.
    pub erased: bool,
}

/// A wish of a step, and whether the log holds it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WantView {
    /// As the procedure writes it; its fields stand in the view itself.
    #[serde(flatten)]
    pub want: Want,
    /// The log holds it.
    pub have: bool,
    /// What the log holds, in words; empty when nothing.
    pub words: String,
    /// The answer or number in hand, for the keys to show.
    pub value: Option<String>,
    /// Every answer that holds, where several may.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<String>>", optional)]
    pub values: Vec<String>,
    /// What a number measures; `None` for a unit that the core does not know, and for
    /// wishes that are no number.
    pub measures: Option<Quantity>,
    /// What follows from it, in words: what to do next at the level plug, what
    /// became of the codes. Left out when nothing does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<String>>", optional)]
    pub said: Vec<String>,
    /// What one key can enter instead of several; never taken unasked.
    pub offers: Vec<OfferView>,
    /// The step, which insists on nothing, opens with it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[ts(as = "Option<bool>", optional)]
    pub opens: bool,
    /// With the last of it the step is done: what says so ticks the step as well.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[ts(as = "Option<bool>", optional)]
    pub ends: bool,
    /// For readings: numbers near those of like parts, by part. Left out where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    #[ts(as = "Option<Vec<NearView>>", optional)]
    pub near: Vec<NearView>,
}

/// Numbers near those that like parts read: a key each.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct NearView {
    /// The part that has none of these readings yet: the line that noted it.
    pub component: EntryId,
    /// As they would be typed, lowest first.
    pub typed: Vec<String>,
}

/// A value that has a key of its own.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct OfferView {
    /// As it would be typed, or the line that it names.
    pub value: String,
    /// What the key says.
    pub label: String,
}

/// A made report that waits to be given: who gave it may say so beside it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ToGive {
    /// The step that is ticked by it.
    pub step: String,
    /// That step's title.
    pub title: String,
    /// What the customer is asked then.
    pub answer: Option<AnswerAsked>,
}

/// A question to the customer, whose answers are keys.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct AnswerAsked {
    /// The step that it belongs to.
    pub step: String,
    /// Its name in the log.
    pub topic: String,
    /// What the technician reads.
    pub label: String,
    /// A key each.
    pub choices: Vec<Choice>,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct StepView {
    /// Its name in the log.
    pub id: String,
    /// What to do, in a few words.
    pub title: String,
    /// In a sentence or two.
    pub text: String,
    /// What the step is good for, in a sentence or two.
    pub why: String,
    /// What can hurt at this step, and how to keep from it.
    pub caution: Option<String>,
    /// The name of the drawing that shows it; screens have none for a name that they do not know.
    pub drawing: String,
    /// How it stands.
    pub standing: Standing,
    /// Why it was left out.
    pub skip_reason: Option<String>,
    /// What the log must hold.
    pub wants: Vec<WantView>,
    /// What stands in the way of ticking it, in words; empty when nothing.
    pub in_the_way: Vec<String>,
    /// It is as often skipped as done: the reasons are keys beside it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[ts(as = "Option<bool>", optional)]
    pub often_skipped: bool,
    /// What was written at this step, oldest first.
    pub lines: Vec<LineView>,
}

/// One stage.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct StageView {
    /// Its name in the log.
    pub id: String,
    /// Its number on the spine, from 1.
    pub number: u32,
    /// What the technician reads.
    pub title: String,
    /// What can hurt in this stage, and how to keep from it.
    pub caution: Option<String>,
    /// The name of the drawing that stands for it.
    pub drawing: String,
    /// How it stands.
    pub standing: Standing,
    /// In the order of doing.
    pub steps: Vec<StepView>,
}

/// One line of the log in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct LineView {
    /// By which it can be taken back.
    pub entry: EntryId,
    /// When, RFC 3339.
    pub at: String,
    /// By whom.
    pub by: String,
    /// What it says, in the language of the settings.
    pub words: String,
    /// The machine wrote it, not the technician.
    pub machine: bool,
    /// The photo, when the line is one or is about one.
    pub photo: Option<EntryId>,
    /// It does not count any more.
    pub retracted: bool,
    /// It takes back another line: to take it back is to redo that one.
    pub undoes: bool,
    /// Nobody signed it: it was written before lines were signed.
    pub unsigned: bool,
}

/// What was decided at the decision point.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct DecisionView {
    /// What the tool advised then.
    pub advised: AdviceChoice,
    /// What was decided.
    pub chosen: AdviceChoice,
    /// In words.
    pub words: String,
    /// Why, where it differs.
    pub reason: Option<String>,
    /// It is older than the evidence, and is asked again: why.
    pub outdated: Option<String>,
}

/// One job as the screens show it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct JobView {
    /// By which commands name it.
    pub id: JobId,
    /// Plate, or what there is.
    pub title: String,
    /// Description of the car, or what there is of it.
    pub subtitle: String,
    /// It is of the invented demo.
    pub demo: bool,
    /// When it was opened, RFC 3339.
    pub opened: String,
    /// The procedure's title.
    pub procedure: String,
    /// As it was noted last.
    pub car: Option<Car>,
    /// What the VIN and odometer say, when there is something to say.
    pub car_words: Vec<String>,
    /// `None` while nobody is named.
    pub customer: Option<CustomerView>,
    /// As it was noted last.
    pub complaint: Option<Complaint>,
    /// Codes as the car came in; `None` before they are read.
    pub codes_before: Option<Vec<CodeView>>,
    /// Codes after the work.
    pub codes_after: Option<Vec<CodeView>>,
    /// What became of each code; empty until both were read.
    pub codes_changed: Vec<String>,
    /// Leave to open.
    pub go_ahead: Option<GoAhead>,
    /// In the order of doing, with their steps.
    pub stages: Vec<StageView>,
    /// The step in hand; the last one when all is done.
    pub step_in_hand: String,
    /// Everything is done or left out.
    pub finished: bool,
    /// Photos, oldest first.
    pub photos: Vec<PhotoView>,
    /// What came off.
    pub parts: Vec<PartView>,
    /// How many things are still off.
    pub still_off: u32,
    /// Electrical parts.
    pub components: Vec<ComponentView>,
    /// What codes and readings say about the complaint.
    pub explains: Vec<ExplainView>,
    /// The wear score; `None` before there is anything to score.
    pub wear: Option<WearView>,
    /// Why there is no score although there is something to score.
    pub wear_problem: Option<String>,
    /// The last one that counts; `None` before the decision point.
    pub decision: Option<DecisionView>,
    /// What the fluid balance and level say.
    pub fluid_words: Vec<String>,
    /// How many lines the log has.
    pub lines: u32,
    /// The last lines of the log, oldest first.
    pub recent: Vec<LineView>,
    /// What undo would take back, in words.
    pub undo_words: Option<String>,
    /// What is half typed, by field.
    #[ts(type = "Record<string, string>")]
    pub drafts: std::collections::BTreeMap<String, String>,
    /// What the customer answered.
    pub answers: Vec<AnswerView>,
    /// Links by which the customer reads the report.
    pub links: Vec<LinkView>,
    /// Reports that were made, oldest first.
    pub reports: Vec<ReportView>,
    /// One was made and is not yet said to be given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[ts(optional)]
    pub to_give: Option<ToGive>,
    /// What was chosen last in this shop, of what seldom changes from job to job.
    #[serde(default)]
    #[ts(as = "Option<LastChoices>", optional)]
    pub last: LastChoices,
}
