//! The state of a job: plain data, no rules.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::component::{ComponentState, ReplacedState};
use super::cost::CostState;
use crate::census::{Census, PhotoHints, PointPx};
use crate::entry::Entry;
use crate::fact::{
    AdviceChoice, Car, CodeSeen, Complaint, Correction, CostOf, CustomerAnswer, Fact, GoAhead,
    Moment, PartOff, PhotoLink, PhotoSubject, ReportForm, Share, StepId, Tightened, Tools,
};
use crate::id::{CustomerId, DeviceId, EntryId, JobId, Sha256Hex};
use crate::procedure::{Answer, Roles, StepRole, TopicRole};
use chrono::{DateTime, FixedOffset};

/// Who has a device in hand, and the units that it is set to: as its last lines of that kind
/// said before a line, whatever was said later.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Hand {
    /// The technician's name; empty where none was given.
    pub name: String,
    /// What is measured, with the unit's name; empty: the log's own.
    pub units: BTreeMap<String, String>,
    /// The tools that it measures with, as far as they are known.
    pub tools: Tools,
}

impl Hand {
    /// The same after a line that changes it; `None` for any other line.
    pub(super) fn after(&self, fact: &Fact) -> Option<Hand> {
        match fact {
            Fact::WrittenBy { name } => Some(Hand {
                name: name.clone(),
                ..self.clone()
            }),
            Fact::WrittenIn { units } => Some(Hand {
                units: units.clone(),
                ..self.clone()
            }),
            Fact::MeasuredWith { tools } => Some(Hand {
                tools: tools.clone(),
                ..self.clone()
            }),
            _ => None,
        }
    }
}

/// Which line, by whose device, when.
#[derive(Debug, Clone, PartialEq)]
pub struct Stamp {
    /// The one that is stamped.
    pub entry: EntryId,
    /// The one that wrote it.
    pub device: DeviceId,
    /// Wall time as that device showed it.
    pub wall: DateTime<FixedOffset>,
    /// Who held that device then, and in which units.
    pub hand: Arc<Hand>,
}

impl Stamp {
    /// The stamp of an entry that was written by this hand.
    pub(super) fn of(entry: &Entry, hand: Arc<Hand>) -> Stamp {
        Stamp {
            entry: entry.id,
            device: entry.device,
            wall: entry.wall,
            hand,
        }
    }
}

/// One line of the log as history: with what it is, and whether it counts.
#[derive(Debug, Clone, PartialEq)]
pub struct LineState {
    /// Who and when.
    pub stamp: Stamp,
    /// What was written; `None` for a kind that this version does not know.
    pub fact: Option<crate::fact::Fact>,
    /// The retraction, when it does not count.
    pub retracted_by: Option<EntryId>,
}

/// How a step stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Mark {
    /// Everything that it asks for was done.
    Ticked,
    /// Left out, with the reason.
    Skipped(String),
}

/// A step that is done or left out.
#[derive(Debug, Clone, PartialEq)]
pub struct StepState {
    /// Who and when.
    pub stamp: Stamp,
    /// Which of the two.
    pub mark: Mark,
}

/// Codes as read at one moment.
#[derive(Debug, Clone, PartialEq)]
pub struct CodesState {
    /// Who and when.
    pub stamp: Stamp,
    /// The codes; empty when none was set.
    pub codes: Vec<CodeSeen>,
}

/// The technician's own words.
#[derive(Debug, Clone, PartialEq)]
pub struct NoteState {
    /// Who and when.
    pub stamp: Stamp,
    /// The one it was written at, by its id in the procedure.
    pub step: StepId,
    /// What about, where the procedure asked.
    pub topic: Option<String>,
    /// As they were written.
    pub text: String,
    /// Kept out of the report.
    pub private: bool,
}

/// An answer on a topic at a step.
#[derive(Debug, Clone, PartialEq)]
pub struct ObservedAt {
    /// Who and when.
    pub stamp: Stamp,
    /// The one that asked, by its id in the procedure.
    pub step: StepId,
    /// What was looked at, by its name in the procedure.
    pub topic: String,
    /// The answer that was pressed first, by its name in the procedure.
    pub choice: String,
    /// Further answers that hold beside it.
    pub also: Vec<String>,
    /// Words added.
    pub text: String,
}

impl ObservedAt {
    /// Every answer that holds, in the order of pressing.
    pub fn choices(&self) -> impl Iterator<Item = &str> {
        let also = self.also.iter().map(String::as_str);
        std::iter::once(self.choice.as_str()).chain(also)
    }
}

/// A number on a topic at a step.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredAt {
    /// Who and when.
    pub stamp: Stamp,
    /// The one that asked, by its id in the procedure.
    pub step: StepId,
    /// What was measured, by its name in the procedure.
    pub topic: String,
    /// In the topic's unit.
    pub value: f64,
}

/// The technician's word on one place of a photo.
#[derive(Debug, Clone, PartialEq)]
pub struct CorrectionState {
    /// Who and when.
    pub stamp: Stamp,
    /// The piece's centre, px of the upright picture.
    pub at_px: PointPx,
    /// What it is.
    pub to: Correction,
}

/// Which earlier photo a photo belongs to.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkState {
    /// Who and when.
    pub stamp: Stamp,
    /// The earlier photo's line.
    pub to: EntryId,
    /// The same patch once more, the same after a magnet, or other ground.
    pub link: PhotoLink,
}

/// A photo and what was made of it.
#[derive(Debug, Clone, PartialEq)]
pub struct PhotoState {
    /// Who and when.
    pub stamp: Stamp,
    /// The one it belongs to, by its id in the procedure.
    pub step: StepId,
    /// Name of its bytes.
    pub photo: Sha256Hex,
    /// What it shows.
    pub subject: PhotoSubject,
    /// The last taps on it; empty before any.
    pub hints: PhotoHints,
    /// The last census as the machine made it.
    pub census: Option<Census>,
    /// The line of that census.
    pub census_stamp: Option<Stamp>,
    /// The technician's corrections, in order.
    pub corrections: Vec<CorrectionState>,
    /// The technician stands by it; gone again when a census or a correction follows.
    pub confirmed: Option<Stamp>,
    /// Which earlier photo it belongs to, as the technician said.
    pub link: Option<LinkState>,
}

/// Something that came off.
#[derive(Debug, Clone, PartialEq)]
pub struct PartState {
    /// Who and when.
    pub stamp: Stamp,
    /// What, how many, where.
    pub part: PartOff,
    /// How many are back, replacements among them.
    pub back: u32,
    /// How many of those are replacements.
    pub replaced: u32,
    /// How many were lost or spoilt.
    pub lost: u32,
    /// What was said of those.
    pub lost_text: Vec<String>,
}

impl PartState {
    /// How many are still off.
    pub fn off(&self) -> u32 {
        self.part.count.saturating_sub(self.back)
    }
}

/// A finished tightening.
#[derive(Debug, Clone, PartialEq)]
pub struct TightenedState {
    /// Who and when.
    pub stamp: Stamp,
    /// The one it was done at, by its id in the procedure.
    pub step: StepId,
    /// Torque, passes, bolts and tool.
    pub tightened: Tightened,
}

/// What was decided.
#[derive(Debug, Clone, PartialEq)]
pub struct Decision {
    /// Who and when.
    pub stamp: Stamp,
    /// What the tool advised then.
    pub advised: AdviceChoice,
    /// What was decided.
    pub chosen: AdviceChoice,
    /// Why, where it differs.
    pub reason: Option<String>,
}

/// A report that was made.
#[derive(Debug, Clone, PartialEq)]
pub struct ReportState {
    /// Who and when.
    pub stamp: Stamp,
    /// Hash of its bytes.
    pub sha256: Sha256Hex,
    /// As what, where it was written down.
    pub form: Option<ReportForm>,
    /// How much was told of the car by then ([`JobState::told`]): reports with the
    /// same number say the same, as a page and its print do.
    pub told: u32,
    /// It is no longer to be relied on.
    pub withdrawn: Option<Withdrawn>,
}

/// That a report was withdrawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Withdrawn {
    /// Who and when.
    pub stamp: Stamp,
    /// Why, as the customer is told.
    pub reason: String,
}

/// A link to the report that is open.
#[derive(Debug, Clone, PartialEq)]
pub struct ShareState {
    /// Who and when.
    pub stamp: Stamp,
    /// Which report, until when; of the link's secret the hash alone.
    pub share: Share,
}

/// What the customer answered.
#[derive(Debug, Clone, PartialEq)]
pub struct AnswerState {
    /// When, and by which device it came in.
    pub stamp: Stamp,
    /// For which item, what, and in whose name.
    pub answer: CustomerAnswer,
}

/// All that the log says of one job.
#[derive(Debug, Clone, PartialEq)]
pub struct JobState {
    /// The one that every line named.
    pub id: JobId,
    /// What the code needs of the steps, questions and answers of its procedure; none until
    /// that is known ([`JobState::read_by`]).
    pub roles: Arc<Roles>,
    /// Who opened it and when.
    pub opened: Option<Stamp>,
    /// Procedure and version.
    pub procedure: Option<(String, u32)>,
    /// Who has each device in hand by its last lines.
    pub hands: BTreeMap<DeviceId, Arc<Hand>>,
    /// As it was noted last.
    pub car: Option<Car>,
    /// Reference to the customer.
    pub customer: Option<CustomerId>,
    /// As it was noted last.
    pub complaint: Option<Complaint>,
    /// Codes before and after.
    pub codes: BTreeMap<Moment, CodesState>,
    /// Leave to open.
    pub go_ahead: Option<GoAhead>,
    /// Steps done or left out.
    pub steps: BTreeMap<StepId, StepState>,
    /// Notes in order.
    pub notes: Vec<NoteState>,
    /// The last answer by step and topic.
    pub observed: BTreeMap<(StepId, String), ObservedAt>,
    /// All numbers in order.
    pub measured: Vec<MeasuredAt>,
    /// Photos in order.
    pub photos: Vec<PhotoState>,
    /// What came off, in order.
    pub parts: Vec<PartState>,
    /// Electrical parts, in order.
    pub components: Vec<ComponentState>,
    /// Parts out and in, in order.
    pub replaced: Vec<ReplacedState>,
    /// Tightenings, in order.
    pub tightened: Vec<TightenedState>,
    /// What things cost, as the shop says it.
    pub costs: BTreeMap<CostOf, CostState>,
    /// The last one that counts.
    pub decision: Option<Decision>,
    /// Reports made, in order.
    pub reports: Vec<ReportState>,
    /// How many lines that count say something of the car, the work or the people.
    pub told: u32,
    /// Links to the report, in order.
    pub shares: Vec<ShareState>,
    /// What the customer answered, in order.
    pub answers: Vec<AnswerState>,
    /// The log itself, in order. Not part of what is compared for "undone":
    /// a retraction undoes an effect, not the fact that it was written.
    pub lines: Vec<LineState>,
}

impl JobState {
    pub(super) fn new(id: JobId) -> JobState {
        JobState {
            id,
            roles: Arc::default(),
            opened: None,
            procedure: None,
            hands: BTreeMap::new(),
            car: None,
            customer: None,
            complaint: None,
            codes: BTreeMap::new(),
            go_ahead: None,
            steps: BTreeMap::new(),
            notes: Vec::new(),
            observed: BTreeMap::new(),
            measured: Vec::new(),
            photos: Vec::new(),
            parts: Vec::new(),
            components: Vec::new(),
            replaced: Vec::new(),
            tightened: Vec::new(),
            costs: BTreeMap::new(),
            decision: None,
            reports: Vec::new(),
            told: 0,
            shares: Vec::new(),
            answers: Vec::new(),
            lines: Vec::new(),
        }
    }

    pub(super) fn note_line(&mut self, stamp: Stamp, entry: &Entry, retracted_by: Option<EntryId>) {
        self.lines.push(LineState {
            stamp,
            fact: entry.body.known().cloned(),
            retracted_by,
        });
    }

    /// The photo of that line.
    pub fn photo(&self, entry: EntryId) -> Option<&PhotoState> {
        self.photos.iter().find(|p| p.stamp.entry == entry)
    }

    /// The component of that line.
    pub fn component(&self, entry: EntryId) -> Option<&ComponentState> {
        self.components.iter().find(|c| c.stamp.entry == entry)
    }

    /// The report with these bytes; the last where it was made twice.
    pub fn report(&self, sha256: Sha256Hex) -> Option<&ReportState> {
        self.reports.iter().rfind(|report| report.sha256 == sha256)
    }

    /// The report that stands in place of one: the last made later that says more
    /// than it, or any later one when it was withdrawn. One that was itself
    /// withdrawn only where there is no other.
    pub fn superseded_by(&self, report: &ReportState) -> Option<&ReportState> {
        let place = |r: &&ReportState| r.stamp.entry == report.stamp.entry;
        let at = self.reports.iter().position(|r| place(&r))?;
        let later = self.reports.iter().skip(at + 1);
        let other: Vec<_> = later
            .filter(|r| r.told != report.told || report.withdrawn.is_some())
            .collect();
        let good = other.iter().rev().find(|r| r.withdrawn.is_none());
        good.or(other.last()).copied()
    }

    /// How many things are still off the car.
    pub fn still_off(&self) -> u32 {
        self.parts.iter().map(PartState::off).sum()
    }

    /// The same job, its lines read by the roles of its procedure.
    #[must_use]
    pub fn read_by(self, roles: Arc<Roles>) -> JobState {
        JobState { roles, ..self }
    }

    /// A step of that role is done; one that was left out is not.
    pub fn is_ticked(&self, role: StepRole) -> bool {
        let mut steps = self.steps.iter();
        steps.any(|(id, step)| self.roles.step(id) == Some(role) && step.mark == Mark::Ticked)
    }

    /// The last answer to a question of that role, at whatever step.
    pub fn answer(&self, role: TopicRole) -> Option<&ObservedAt> {
        self.observed
            .values()
            .filter(|o| self.roles.topic(&o.step, &o.topic) == Some(role))
            .max_by_key(|o| (o.stamp.wall, o.stamp.entry))
    }

    /// What an answer says: each that holds, where the code knows it.
    pub fn says<'a>(&'a self, at: &'a ObservedAt) -> impl Iterator<Item = Answer> + 'a {
        at.choices()
            .filter_map(|choice| self.roles.answer(&at.step, &at.topic, choice))
    }

    /// Every number of that role, in order.
    pub fn measured_as(
        &self,
        role: TopicRole,
    ) -> impl DoubleEndedIterator<Item = &MeasuredAt> + '_ {
        let numbers = self.measured.iter();
        numbers.filter(move |m| self.roles.topic(&m.step, &m.topic) == Some(role))
    }

    /// The last number of that role.
    pub fn last_measure(&self, role: TopicRole) -> Option<f64> {
        self.measured_as(role).next_back().map(|m| m.value)
    }
}
