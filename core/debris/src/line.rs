//! One line of `swarfbook census --json`.

use serde::{Deserialize, Serialize};
use swarfbook_job::census::Census;

/// A photo's census with its name and times, as the command line writes it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CensusLine {
    /// The photo's file name, without its folder.
    pub file: String,
    /// What it says.
    #[serde(flatten)]
    pub census: Census,
    /// Time to decode it and turn it upright, ms.
    pub decode_ms: f64,
    /// Time for everything, decoding included, ms.
    pub ms: f64,
}
