//! What the score is made from. Plain values, filled by the caller from the
//! confirmed log; ids are the caller's own and come back with the reasons.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::census::{Census, DebrisClass, MagnetCover, PhotoKind, ScaleFrom};
use swarfbook_job::fact::AdviceChoice;
use swarfbook_job::procedure::{
    FilterFound, FluidLook, KnownPart, Paste, Smell, SteelFeel, Symptom,
};
use swarfbook_measure::conformity::Verdict;
use ts_rs::TS;

/// All that is known when the pan is judged.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, TS)]
#[serde(default)]
pub struct Evidence {
    /// Confirmed photos.
    pub photos: Vec<PhotoSeen>,
    /// What was seen, smelt and felt.
    pub observations: Vec<Observed>,
    /// Distance since the pan was last clean, km, when it is known.
    pub km_since_clean: Option<f64>,
    /// Where that distance is unknown: the least that it can be, km.
    pub km_at_least: f64,
    /// The pan is open for the first time since the unit was new or rebuilt.
    pub first_opening: bool,
    /// The fluid was changed since, but the pan stayed on: the distance goes further back.
    pub pan_stayed_on: bool,
    /// Odometer now, km.
    pub odometer_km: Option<f64>,
    /// Earlier visits of the same car, in any order; each left a clean pan.
    pub earlier: Vec<EarlierVisit>,
    /// What the customer complains of.
    pub symptoms: Vec<SymptomSeen>,
    /// Codes that are set, and whether what was found explains them.
    pub codes: Vec<CodeSeen>,
    /// Readings and their verdicts.
    pub readings: Vec<ReadingSeen>,
    /// The technician's own decision, when it differs from the advice.
    pub overrule: Option<Overrule>,
}

/// One photo's census after the technician's corrections.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct PhotoSeen {
    /// The caller's reference, given back with the reasons.
    pub id: String,
    /// What the photo shows. Pan and patch show the same residue in two places,
    /// so the greater of both counts; what stands in a magnet is added.
    pub kind: PhotoKind,
    /// Shows ground that another photo here shows already (the patch after the
    /// magnet was passed, a second take): its particles don't count again.
    #[serde(default)]
    pub again: bool,
    /// Nobody stood by its count yet.
    #[serde(default)]
    pub unconfirmed: bool,
    /// It is far off what the census learned: none of its pieces is sure before somebody
    /// looked at them.
    #[serde(default)]
    pub unusual: bool,
    /// One each, with class, length and how sure both are.
    #[serde(default)]
    pub particles: Vec<ParticleSeen>,
    /// Ground that was searched, cm².
    #[serde(default)]
    pub searched_cm2: Option<f64>,
    /// The smallest piece that this photo can show, mm.
    #[serde(default)]
    pub smallest_mm: Option<f64>,
    /// Share of the magnet's face that is covered.
    #[serde(default)]
    pub cover: Option<MagnetCover>,
}

impl PhotoSeen {
    /// A census as it stands; `None` for a photo that could not be read.
    pub fn from_census(id: &str, census: &Census) -> Option<PhotoSeen> {
        if census.problem.is_some() {
            return None;
        }
        let sized = census
            .scale
            .as_ref()
            .is_some_and(|scale| scale.from != ScaleFrom::None);
        let particles = census
            .particles
            .iter()
            .map(|particle| ParticleSeen {
                class: particle.class,
                p: particle.p.clone(),
                real: particle.real,
                compact: (particle.feret_max_mm > 0.0)
                    .then(|| particle.feret_min_mm / particle.feret_max_mm),
                at: None,
                feret_max: sized.then_some(LengthMm {
                    mm: particle.feret_max_mm,
                    lo: particle.feret_max_lo,
                    hi: particle.feret_max_hi,
                }),
            })
            .collect();
        Some(PhotoSeen {
            id: id.to_owned(),
            kind: census.kind,
            again: false,
            unconfirmed: false,
            unusual: census.is_far_off(),
            particles,
            searched_cm2: census.searched_cm2,
            smallest_mm: census.smallest_mm,
            cover: census.magnet,
        })
    }
}

/// One piece of debris.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ParticleSeen {
    /// Its class as confirmed.
    pub class: DebrisClass,
    /// Probability of each class; only the interval uses it. Where it does not
    /// agree that `class` is the likeliest, the technician's class is certain.
    #[serde(default)]
    pub p: BTreeMap<DebrisClass, f64>,
    /// Feret maximum; `None` when the photo has no scale.
    #[serde(default)]
    pub feret_max: Option<LengthMm>,
    /// Probability that it is a piece at all, as far as the machine tells.
    #[serde(default)]
    pub real: Option<f64>,
    /// Least over greatest Feret diameter, 0 to 1.
    #[serde(default)]
    pub compact: Option<f64>,
    /// Which piece of which photo it is, given back with the reasons.
    #[serde(default)]
    pub at: Option<PieceAt>,
}

/// One piece of one photo, by the caller's references.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, TS)]
pub struct PieceAt {
    /// The caller's reference to it.
    pub photo: String,
    /// Its number there.
    pub piece: u32,
}

/// A length with its 90 % interval, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
pub struct LengthMm {
    /// Best value.
    pub mm: f64,
    /// Lower end.
    pub lo: f64,
    /// Upper end.
    pub hi: f64,
}

/// An observation with the caller's reference.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Observed {
    /// The caller's reference, given back with the reasons.
    pub id: String,
    /// What was observed.
    pub observation: Observation,
}

/// What no photo measures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "what", rename_all = "snake_case")]
pub enum Observation {
    /// How the fluid looks; several may hold.
    Fluid {
        /// As the procedure's answer says.
        look: FluidLook,
    },
    /// How the fluid smells.
    Smell {
        /// As the procedure's answer says.
        smell: Smell,
    },
    /// What sits on a magnet, by the finger; the worst magnet counts.
    Paste {
        /// Film or paste.
        paste: Paste,
    },
    /// A piece whose origin can be told.
    Chunk {
        /// What it is a piece of.
        part: KnownPart,
        /// That in the technician's words; empty where the part's name says all.
        named: String,
    },
    /// How the steel feels between the fingers.
    Steel {
        /// As the procedure's answer says.
        feel: SteelFeel,
    },
    /// What the filter held.
    Filter {
        /// The find; several may hold.
        found: FilterFound,
    },
}

/// One earlier visit of the same car, after which the pan was clean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct EarlierVisit {
    /// The caller's reference.
    pub id: String,
    /// Odometer then, km.
    #[serde(default)]
    pub odometer_km: Option<f64>,
    /// Distance since the pan was clean before that visit, km.
    #[serde(default)]
    pub km_since_clean: Option<f64>,
    /// The confirmed photos of that visit.
    #[serde(default)]
    pub photos: Vec<PhotoSeen>,
}

/// A complaint with the caller's reference.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct SymptomSeen {
    /// The caller's reference.
    pub id: String,
    /// What the customer complains of.
    pub symptom: Symptom,
}

/// A code that is set, and what the readings say about it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct CodeSeen {
    /// The caller's reference.
    pub id: String,
    /// The code as shown.
    pub code: String,
    /// Whether what was found explains it.
    pub explained: Explained,
    /// What explains it, in words ("shift solenoid B"), when something does.
    #[serde(default)]
    pub by: Option<String>,
}

/// Whether a finding explains a code.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Explained {
    /// It does.
    Explains,
    /// It does not.
    DoesNotExplain,
    /// That can't be told.
    CantTell,
}

/// The verdict on one component's reading.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct ReadingSeen {
    /// The caller's reference.
    pub id: String,
    /// The component, in words.
    pub component: String,
    /// How the reading stands to the limits.
    pub verdict: Verdict,
}

/// The technician's own decision against the advice. Both are kept.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Overrule {
    /// The caller's reference.
    pub id: String,
    /// What the technician decided.
    pub chosen: AdviceChoice,
    /// For Watch: after which distance, km; the advice's own when not said.
    #[serde(default)]
    pub after_km: Option<f64>,
    /// Why; never empty.
    pub reason: String,
}
