//! One term of the hazard, told in words.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::DebrisClass;
use ts_rs::TS;

use crate::{Group, KnownPart, PieceAt};

/// One contribution to the score. All `hazard` together are the hazard.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
pub struct Reason {
    /// What it is.
    pub reason: ReasonKind,
    /// In plain words ("3 flakes of brass or bronze, 1 to 2 mm").
    pub words: String,
    /// Its part of the hazard.
    pub hazard: f64,
    /// Its share of the hazard, 0 to 1.
    pub share: f64,
    /// The photos and observations it comes from, by the ids given in.
    pub sources: Vec<String>,
    /// The pieces that it counts.
    #[serde(default)]
    pub pieces: Vec<PieceAt>,
    /// The group that it counts with; its hazard is what is left of it under the group's cap.
    #[serde(default)]
    pub group: Option<Group>,
    /// Where its weight comes from.
    pub provenance: String,
}

/// What a contribution is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum ReasonKind {
    /// Pieces of one class and size.
    Debris {
        /// Their class.
        class: DebrisClass,
        /// Least Feret maximum, mm.
        from_mm: f64,
        /// Upper limit, mm; none for the largest.
        to_mm: Option<f64>,
        /// How many.
        n: u32,
        /// Steel that the finger feels as grains.
        grains: bool,
    },
    /// Paste on the magnet beyond what the distance explains.
    Paste {
        /// What is there, in films.
        films: f64,
        /// What the distance explains, in films.
        explained: f64,
    },
    /// An observation of the fluid or the filter.
    Observation,
    /// A piece whose origin can be told.
    Chunk {
        /// What it is a piece of.
        part: KnownPart,
    },
}
