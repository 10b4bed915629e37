//! The five ranges of the score.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// A named range of the score, from none to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Band {
    /// No more than a new gearbox shows after running in.
    Clean,
    /// What age and distance explain.
    Settled,
    /// More than distance explains.
    Active,
    /// A part is coming apart.
    Heavy,
    /// A part has broken or is about to.
    Failing,
}

impl Band {
    /// Every band, from none to worst.
    pub const ALL: [Band; 5] = [
        Band::Clean,
        Band::Settled,
        Band::Active,
        Band::Heavy,
        Band::Failing,
    ];

    /// 1 for Clean to 5 for Failing.
    pub fn numeral(self) -> u32 {
        match self {
            Band::Clean => 1,
            Band::Settled => 2,
            Band::Active => 3,
            Band::Heavy => 4,
            Band::Failing => 5,
        }
    }

    /// Its name in the language that is spoken: "settled".
    pub fn words(self) -> &'static str {
        match self {
            Band::Clean => term!("clean"),
            Band::Settled => term!("settled"),
            Band::Active => term!("active"),
            Band::Heavy => term!("heavy"),
            Band::Failing => term!("failing"),
        }
    }
}
