//! What the first two pages say, in the owner's words, beside what the other parts hold.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::DebrisClass;
use swarfbook_job::id::{EntryId, Sha256Hex};

use super::{Fixed, Made, Said, SizeMm};

/// The letter that the report begins with.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Letter {
    /// Number of this report: [`number`].
    pub number: String,
    /// Was the complaint mended?
    pub mended: Said,
    /// What was found, a sentence each, beside whether the gearbox can be saved.
    pub found: Vec<Said>,
    /// What was done, a sentence each.
    pub done: Vec<Said>,
    /// What has to be known beside the answer, but for an overruled advice.
    pub beside: Vec<Said>,
    /// The technician decided otherwise than the tool advises.
    pub overruled: Option<Overruled>,
    /// What the shop says that it costs.
    pub costs: Vec<Cost>,
    /// The gravest pieces, each in a picture of its own.
    pub close_ups: Vec<CloseUp>,
    /// What was measured, beside its limits.
    pub measured: Vec<Row>,
}

/// The tool's advice and the technician's decision.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Overruled {
    /// What the tool advises.
    pub tool: String,
    /// What that advice rests on.
    pub tool_why: String,
    /// What the technician decided.
    pub technician: String,
    /// Why; says so where no reason was written down.
    pub technician_why: String,
    /// The lines that both rest on.
    pub from: Vec<EntryId>,
}

/// An amount that the shop gave.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cost {
    /// What it is for: the work of this visit, or one thing that is advised.
    pub what: String,
    /// The amount with its currency: "180.00 EUR", and what the shop added to it.
    pub said: Said,
    /// The place of the thing advised among the advice, from 0; `None` for this visit's work.
    pub advice: Option<usize>,
}

/// One of the gravest pieces, cut out of the photo as it was taken.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CloseUp {
    /// The line of the photo; one of the photos.
    pub photo: EntryId,
    /// SHA-256 of the picture's bytes.
    pub copy: Sha256Hex,
    /// Width and height of the picture, px.
    pub size_px: [u32; 2],
    /// Pixels of the picture that are a millimetre; `None` without a scale.
    pub px_per_mm: Option<Fixed>,
    /// What it is, corrections applied.
    pub class: DebrisClass,
    /// Its length; `None` without a scale.
    pub size: Option<SizeMm>,
    /// Its outline in ten-thousandths of the picture's width and height.
    pub points: Vec<[u16; 2]>,
}

/// Something that was measured: value, limit and meaning.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Row {
    /// What it is of.
    pub what: String,
    /// The value with its unit, and how far off it may be.
    pub value: Said,
    /// What is allowed; says so where nobody publishes a limit.
    pub limit: String,
    /// What that means for the owner.
    pub meaning: String,
    /// It lies outside.
    #[serde(default)]
    pub outside: bool,
}

/// Number of a report: the day of its making in world time, the end of its job's id, and the
/// beginning of the SHA-256 of the lines that it is made from. A preview bears the number
/// that the report will have; one made from other lines has another.
pub fn number(made: &Made) -> String {
    let day = made.at.to_utc().format("%y%m%d");
    let job = made.job.to_string().to_uppercase();
    let end = job.get(job.len().saturating_sub(4)..).unwrap_or_default();
    let heads = made
        .heads
        .iter()
        .map(|(device, head)| format!("{device} {} {}\n", head.seq, head.hash));
    let lines = Sha256Hex::of(heads.collect::<String>().as_bytes())
        .to_string()
        .to_uppercase();
    format!("{day}-{end}-{}", lines.get(..6).unwrap_or_default())
}
