//! Photos and what the technician says of them.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::census::{DebrisClass, PhotoKind, PointPx};

/// What a photo shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PhotoSubject {
    /// Residue on white lint-free paper.
    Patch,
    /// The same patch after the magnet took what it could.
    PatchAfterMagnet,
    /// The pan as it came down.
    Pan,
    /// A magnet before wiping.
    Magnet,
    /// Where something goes back.
    Place,
    /// The filter, opened.
    Filter,
    /// A part, old or new.
    Part,
    /// A place looked at for leaks.
    Leak,
    /// Anything else.
    Other,
    /// The display of a meter, as a reading was read off it.
    Display,
}

impl PhotoSubject {
    /// How a census reads it; `None` where there is nothing to count.
    pub fn kind(self) -> Option<PhotoKind> {
        match self {
            PhotoSubject::Patch | PhotoSubject::PatchAfterMagnet => Some(PhotoKind::Patch),
            PhotoSubject::Pan => Some(PhotoKind::Pan),
            PhotoSubject::Magnet => Some(PhotoKind::Magnet),
            _ => None,
        }
    }
}

/// How a photo belongs to an earlier one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PhotoLink {
    /// It shows the same patch once more, whole or in part: pieces in both count once.
    SamePatch,
    /// It shows that patch after a magnet was passed over it.
    AfterMagnet,
    /// It shows other ground, whatever was said before.
    Apart,
}

/// What the technician says a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, TS)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum Correction {
    /// Debris of this class.
    Debris {
        /// As the technician names it.
        class: DebrisClass,
    },
    /// Not debris: a shadow, a glint, a stain.
    NotDebris,
    /// Two pieces that were taken for one.
    Parted {
        /// Two points of the line between them.
        along_px: [PointPx; 2],
    },
    /// One piece that was taken for two.
    Joined {
        /// The other one's centre.
        with_px: PointPx,
    },
}
