//! Which languages there are.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A language in which every text is there.
#[derive(
    Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Language {
    /// English, in which the texts are written first.
    #[default]
    En,
    /// German.
    De,
}

impl Language {
    /// All of them.
    pub const ALL: [Language; 2] = [Language::En, Language::De];

    /// Its tag (BCP 47), as a page's `lang` attribute and a PDF's `Lang` want it.
    pub fn tag(self) -> &'static str {
        match self {
            Language::En => "en",
            Language::De => "de",
        }
    }

    /// The mark between whole and fraction of a number.
    pub fn decimal_mark(self) -> char {
        match self {
            Language::En => '.',
            Language::De => ',',
        }
    }
}
