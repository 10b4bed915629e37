//! All that a report says, already judged: plain words, numbers with units, and
//! for each the lines of the log that it rests on.
//!
//! This tree is the report; the HTML (and later the PDF) only sets it out. Its
//! canonical form (RFC 8785 JSON, [`Content::canonical`]) is what a signature
//! is over, so it holds no number that wobbles and no map without an order.
//!
//! Strings are in the report's language. What customers and technicians wrote
//! goes in as it stands; setting out escapes it.

mod advice;
mod evidence;
mod findings;
mod letter;
mod log;
mod number;
mod photo;
mod reading;
mod source;
mod work;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::id::{EntryId, Sha256Hex};

pub use advice::{AdviceItem, DecisionSaid, NotDone, Urgency};
pub use evidence::{CountRow, Evidence, InstrumentSaid};
pub use findings::{
    Answer, ClassPieces, CodeSaid, CodesSaid, FluidSaid, KindSaid, ReasonSaid, SizeBar, Swatch,
    VisitRate, VisitSaid, WearSaid,
};
pub use letter::{CloseUp, Cost, Letter, Overruled, Row, number};
pub use log::{LogCount, NotedAt, Untold};
pub use number::{Fixed, NotFinite};
pub use photo::{
    Outline, PHOTO_BUDGET_BYTES, Pair, PairRow, PhotoSaid, Photos, PieceCount, SizeMm,
};
pub use reading::{ComponentSaid, Plot, ReadingSaid};
pub use source::{Raw, Source};
pub use swarfbook_measure::conformity::ReadingVerdict;
pub use swarfbook_seal::{LogHead, Made};
pub use work::{Done, PartOffSaid, PartReplaced, PartsOff};

/// The form of this tree; a reader of another form must not guess.
/// Form 1 had no letter.
pub const FORM: u32 = 2;

/// A sentence or a figure, with the lines of the log that it rests on.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Said {
    /// In plain words, numbers with their units.
    pub words: String,
    /// The lines; each must stand in [`Content::sources`].
    #[serde(default)]
    pub from: Vec<EntryId>,
}

impl Said {
    /// Words with the lines that they rest on.
    pub fn new(words: impl Into<String>, from: impl IntoIterator<Item = EntryId>) -> Said {
        Said {
            words: words.into(),
            from: from.into_iter().collect(),
        }
    }
}

/// A figure with its name, for instance "Came out: 5.2 l".
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fact {
    /// What it is of: "Came out".
    pub label: String,
    /// With its unit: "5.2 l".
    pub said: Said,
}

/// The shop as it signs.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shop {
    /// As it stands in the letter's head; may be empty.
    pub name: String,
    /// Address, telephone: one line each.
    pub lines: Vec<String>,
}

/// The car as it came in.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct CarSaid {
    /// What one calls it.
    pub description: String,
    /// Plate; empty when left out.
    pub plate: String,
    /// Vehicle identification number, when it was read.
    pub vin: Option<String>,
    /// Distance driven, fluid last changed, and what else is known.
    pub facts: Vec<Fact>,
}

/// What the customer said is wrong.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ComplaintSaid {
    /// The customer's own words.
    pub said: Said,
    /// When it shows: "cold", "shifting up".
    pub when: Vec<String>,
    /// What it does, of the answers that are offered: "slips", "shudders".
    #[serde(default)]
    pub symptoms: Vec<String>,
}

/// A paragraph on how a figure is made, for another technician.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Method {
    /// What it is about.
    pub title: String,
    /// How it is done, and by what source.
    pub text: String,
}

/// Everything that the report says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Content {
    /// [`FORM`].
    pub form: u32,
    /// Language of all strings, BCP 47: "en".
    pub lang: String,
    /// The shop, the car and all of it are invented (demo); the report says so.
    pub invented: bool,
    /// When and from what.
    pub made: Made,
    /// By whom.
    pub shop: Shop,
    /// Who wrote in the log; empty when names are left out.
    pub technicians: Vec<String>,
    /// For whom; `None` when nobody is known or the name was erased. A name that is left
    /// out is replaced by a word that says so.
    pub customer: Option<String>,
    /// Make, plate, VIN and distance, as far as they are told.
    pub car: CarSaid,
    /// In the customer's words; `None` where none was noted.
    pub complaint: Option<ComplaintSaid>,
    /// The go-ahead to open and inspect: who, how, up to what cost.
    pub go_ahead: Option<Said>,
    /// What the first two pages say beside the answer.
    #[serde(default)]
    pub letter: Letter,
    /// The two sentences; see [`crate::answer`].
    pub answer: Answer,
    /// The line of the photo that decides; one of `photos`.
    pub deciding: Option<EntryId>,
    /// Photos in the order of showing.
    pub photos: Vec<PhotoSaid>,
    /// Photos that show the same before and after a magnet.
    #[serde(default)]
    pub pairs: Vec<Pair>,
    /// Pieces a size class, smallest first: those that the score counts; empty without a scale.
    pub sizes: Vec<SizeBar>,
    /// The same pieces a kind of debris.
    #[serde(default)]
    pub kinds: Vec<KindSaid>,
    /// How many of them have no size, since their photo has no scale.
    #[serde(default)]
    pub unsized_pieces: u32,
    /// The wear score; `None` when nothing was read from the pan.
    pub wear: Option<WearSaid>,
    /// Findings that stand beside the score: milky fluid, not explained yet.
    pub findings: Vec<Said>,
    /// Electrical parts and their readings.
    pub components: Vec<ComponentSaid>,
    /// Codes before and after, and what explains them.
    pub codes: CodesSaid,
    /// What came out and went in, its level and its looks.
    pub fluid: FluidSaid,
    /// Work done, in the order of doing.
    pub done: Vec<Done>,
    /// Parts out and in.
    pub replaced: Vec<PartReplaced>,
    /// What was tightened and how: "pan bolts", "10 N·m, by hand first, 2 passes".
    pub tightened: Vec<Fact>,
    /// Road test, leak checks: what was seen.
    pub proof: Vec<Fact>,
    /// What came off, and whether it all went back.
    pub parts_off: PartsOff,
    /// What was decided at the decision point.
    pub decision: Option<DecisionSaid>,
    /// What is advised, most urgent first.
    pub advice: Vec<AdviceItem>,
    /// What the customer answered, each with what it was asked of.
    #[serde(default)]
    pub customer_answers: Vec<Fact>,
    /// What was seen, measured and noted at the steps and is told nowhere else.
    #[serde(default)]
    pub noted: Vec<NotedAt>,
    /// Steps of which something is written down, but that are not marked as done.
    #[serde(default)]
    pub begun: Vec<NotDone>,
    /// Steps left out or not reached, each with the reason.
    pub not_done: Vec<NotDone>,
    /// How many lines the log has, and how many of them are told here.
    #[serde(default)]
    pub log: LogCount,
    /// What a photo can't show.
    pub photo_limits: Vec<String>,
    /// What to heed.
    pub cautions: Vec<String>,
    /// What an expert asks beside the figures.
    #[serde(default)]
    pub evidence: Evidence,
    /// How the figures are made, and by what sources.
    pub method: Vec<Method>,
    /// The lines of the log that figures rest on. UUIDv7 orders them by time;
    /// their place in this order is the number that the report shows.
    pub sources: BTreeMap<EntryId, Source>,
    /// What this copy does without, a sentence each.
    #[serde(default)]
    pub left_out: Vec<String>,
}

impl Content {
    /// The bytes that a signature is over: RFC 8785 JSON.
    ///
    /// # Errors
    /// When serde can't write it, which a tree of this shape does not bring about.
    pub fn canonical(&self) -> Result<String, serde_json::Error> {
        serde_json_canonicalizer::to_string(self)
    }

    /// The pictures that the file carries, by their hashes.
    pub fn copies(&self) -> impl Iterator<Item = Sha256Hex> + '_ {
        let photos = self.photos.iter().filter_map(|photo| photo.copy);
        photos.chain(self.letter.close_ups.iter().map(|one| one.copy))
    }

    /// SHA-256 of [`Content::canonical`].
    ///
    /// # Errors
    /// As for [`Content::canonical`].
    pub fn fingerprint(&self) -> Result<Sha256Hex, serde_json::Error> {
        Ok(Sha256Hex::of(self.canonical()?.as_bytes()))
    }
}
