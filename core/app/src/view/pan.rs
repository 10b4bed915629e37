//! Photos, censuses and the wear score.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{DebrisClass, PhotoHints, PointPx, SizeClass};
use swarfbook_job::fact::{AdviceChoice, PhotoLink, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
use swarfbook_wear::{Band, ChangeVerdict, TrayPlace};
use ts_rs::TS;

/// A photo in the job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PhotoView {
    /// The line that took it.
    pub entry: EntryId,
    /// Name of its bytes; the carrier serves them by it.
    pub photo: Sha256Hex,
    /// The one it belongs to, by its id in the procedure.
    pub step: String,
    /// What it shows.
    pub subject: PhotoSubject,
    /// That, in words.
    pub words: String,
    /// When, RFC 3339.
    pub at: String,
    /// A census can be taken of it.
    pub countable: bool,
    /// What the census says, in short.
    pub census: Option<CensusSummary>,
}

/// What a census says, in short, corrections applied.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CensusSummary {
    /// "about 23 pieces (18 to 29), 3 over 1 mm".
    pub words: String,
    /// Pieces that count.
    pub n: u32,
    /// It can't be read, and why.
    pub problem: Option<String>,
    /// What this photo can't show.
    pub limits: Vec<String>,
    /// The technician stands by it.
    pub confirmed: bool,
}

/// One piece, corrections applied.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ParticleView {
    /// Its number in the census.
    pub index: u32,
    /// Centre, px.
    pub at_px: PointPx,
    /// Outline, px.
    pub outline_px: Vec<PointPx>,
    /// What it is.
    pub class: DebrisClass,
    /// What the machine said, where the technician said otherwise.
    pub machine_class: Option<DebrisClass>,
    /// The technician says that it is not debris.
    pub not_debris: bool,
    /// The machine's probability of `class`.
    pub p: f64,
    /// Length class; `None` without scale.
    pub iso16232: Option<SizeClass>,
    /// "steel flake, 1.24 mm (1.17 to 1.31)".
    pub words: String,
    /// Feret maximum, mm; 0 without scale.
    pub feret_max_mm: f64,
    /// Feret minimum, mm; 0 without scale.
    pub feret_min_mm: f64,
    /// Area, mm²; 0 without scale.
    pub area_mm2: f64,
    /// Where it is narrowest, as a line across it: the cut if it is two pieces.
    pub waist_px: Option<[PointPx; 2]>,
    /// The technician parted or joined it.
    pub redrawn: bool,
    /// "0.82 × 0.40 mm, 0.25 mm², length class J"; empty without scale.
    pub figures: String,
    /// Its place in the order of looking, from 0: gravest first, then most doubtful.
    pub rank: u32,
    /// Why it is looked at; `None` for what is no debris.
    pub place: Option<TrayPlace>,
    /// The technician said what it is.
    pub confirmed: bool,
    /// Probability that it is a piece, and of `class`; 1 where the technician said so.
    pub sure: f64,
    /// The other classes that the machine thought of, likeliest first.
    pub likely: Vec<DebrisClass>,
}

/// A patch that a photo can be said to show.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct LinkOffer {
    /// The line that took its first photo.
    pub to: EntryId,
    /// What its key writes.
    pub link: PhotoLink,
    /// It is said already; the key takes it back.
    pub on: bool,
    /// What the key says.
    pub label: String,
}

/// How many of one class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ClassCount {
    /// As lines and wire name it.
    pub class: DebrisClass,
    /// In words.
    pub label: String,
    /// Pieces that were counted.
    pub n: u32,
    /// Lower end of the 90 % interval.
    pub lo: f64,
    /// Upper end.
    pub hi: f64,
}

/// One bar of the size histogram.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct HistogramBar {
    /// The size class.
    pub size: SizeClass,
    /// "0.4 to 0.6 mm".
    pub label: String,
    /// Pieces by class, none left out that is not zero.
    pub by_class: Vec<ClassCount>,
    /// Pieces in all.
    pub n: u32,
    /// Pieces so small can't all be seen in the photo.
    pub below_seen: bool,
}

/// A photo with every piece.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PhotoCensusView {
    /// As the job shows it.
    pub photo: PhotoView,
    /// Size of the upright picture, px; `None` before a census.
    pub size_px: Option<[u32; 2]>,
    /// Corrections applied, those that are no debris among them.
    pub particles: Vec<ParticleView>,
    /// Counts by class.
    pub counts: Vec<ClassCount>,
    /// From the smallest class to the largest; empty without scale.
    pub histogram: Vec<HistogramBar>,
    /// "20.7 px/mm from the gauge card, 0.4 %".
    pub scale_words: String,
    /// "Nothing under 0.31 mm can be seen in this photo."
    pub unseen_words: String,
    /// Magnet cover in words, when a magnet.
    pub magnet_words: Option<String>,
    /// Fluid colour in words, when asked for.
    pub fluid_words: Option<String>,
    /// Two taps are wanted: there is no scale.
    pub wants_taps: bool,
    /// One press may say that none of its pieces is debris, which confirms the count too.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    #[ts(as = "Option<bool>", optional)]
    pub none_at_once: bool,
    /// What was tapped and is in force; the next such line counts in its place, whole.
    pub hints: PhotoHints,
    /// What the photos of this patch say together.
    pub patch_words: Vec<String>,
    /// The patches that it can be said to show.
    pub links: Vec<LinkOffer>,
    /// How to find out how well the shop's photos repeat; on a patch, while nobody did.
    pub repeat_offer: Option<String>,
}

/// Why the score is what it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReasonView {
    /// In words.
    pub words: String,
    /// Its share of the whole, 0 to 1.
    pub share: f64,
    /// The photo it comes from.
    pub photo: Option<EntryId>,
    /// The pieces that it counts, by photo; empty where it is no count of pieces.
    pub pieces: Vec<ReasonPieces>,
}

/// The pieces of one photo that a reason counts.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ReasonPieces {
    /// The line that took it.
    pub photo: EntryId,
    /// Their numbers in its census, as its view gives them.
    pub pieces: Vec<u32>,
}

/// Where a band lies on the scale of the score.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct BandOnScale {
    /// 1 to 5.
    pub numeral: u32,
    /// The score at which it begins.
    pub from: f64,
    /// The evidence allows it.
    pub allowed: bool,
}

/// The wear score and the advice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct WearView {
    /// 0 to 99, whole, as it is told everywhere.
    pub score: f64,
    /// Lower end of its 90 % interval, rounded down.
    pub lo: f64,
    /// Upper end, rounded up.
    pub hi: f64,
    /// The hazard behind it, unrounded: `score = 100 (1 - exp(-hazard))`. It tells scores near
    /// 100 apart.
    pub hazard: f64,
    /// Nobody stood by the counts yet: the first line of score and advice.
    pub not_confirmed: Option<String>,
    /// Counts of this job are calibrated to what the shop confirmed, and by how many pieces.
    pub calibrated: Option<String>,
    /// What both would be without pieces that are not sure and that nobody looked at.
    pub without_doubtful: Option<String>,
    /// The one in which the score lies.
    pub band: Band,
    /// 1 to 5.
    pub numeral: u32,
    /// "Active".
    pub band_name: String,
    /// Bands that the evidence also allows, from none to worst.
    pub bands_also: Vec<Band>,
    /// Every band, from none to worst.
    pub bands: Vec<BandOnScale>,
    /// The band's name with those: "Active; the evidence also allows Settled and Heavy".
    pub band_words: String,
    /// Heaviest first.
    pub reasons: Vec<ReasonView>,
    /// What the tool advises.
    pub advice: AdviceChoice,
    /// That, in words.
    pub advice_words: String,
    /// A sentence for each rule that leads to it.
    pub advice_reasons: Vec<String>,
    /// What to test or look at next, by name, in the order of doing.
    pub next_tests: Vec<String>,
    /// Findings of their own: milky fluid, not explained yet.
    pub findings: Vec<String>,
    /// What the score does not know yet.
    pub missing: Vec<String>,
    /// The visits of this car beside each other; `None` without an earlier one.
    pub trend: Option<TrendView>,
    /// The table of weights that the score was made with.
    pub table: String,
}

/// The visits of one car.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TrendView {
    /// "More than before: 15 pieces in 10,000 km, against 5 in 20,000 km ..."
    pub words: String,
    /// What it comes to; `None` without pieces.
    pub verdict: Option<ChangeVerdict>,
    /// What was compared, and how.
    pub compared: String,
    /// Classes that changed clearly.
    pub by_class: Vec<String>,
    /// Oldest first, this one last.
    pub visits: Vec<TrendPoint>,
}

/// One visit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct TrendPoint {
    /// Its job; `None` for this one.
    pub job: Option<JobId>,
    /// "2 Mar 2026".
    pub label: String,
    /// "2 Mar 2026: 12 pieces in 20,000 km: 6 in 10,000 km (3.5 to 9.7)."
    pub words: String,
    /// Pieces counted.
    pub n: u32,
    /// Pieces in 10,000 km; `None` without a distance.
    pub per_10000_km: Option<f64>,
    /// Lower end of its 90 % interval.
    pub lo: Option<f64>,
    /// Upper end.
    pub hi: Option<f64>,
}
