//! Which languages there are.

use std::cell::Cell;

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

    /// The mark between each three digits of a large number.
    pub fn group_mark(self) -> char {
        match self {
            Language::En => ',',
            Language::De => '.',
        }
    }

    /// The language of a tag: `de`, `de-AT`; `None` for one that there is no catalogue of.
    pub fn of_tag(tag: &str) -> Option<Language> {
        let primary = tag.split('-').next().unwrap_or_default();
        Language::ALL
            .into_iter()
            .find(|language| language.tag().eq_ignore_ascii_case(primary))
    }

    /// The mark between whole and fraction of a number.
    pub fn decimal_mark(self) -> char {
        match self {
            Language::En => '.',
            Language::De => ',',
        }
    }
}

thread_local! {
    /// Handed down a call instead of through every function that says something;
    /// only [`in_language`] sets it, and sets it back.
    static SPOKEN: Cell<Language> = const { Cell::new(Language::En) };
}

/// The language that this call is answered in.
pub fn speaking() -> Language {
    SPOKEN.get()
}

/// Does `what` with everything said in `language`, on this thread.
pub fn in_language<T>(language: Language, what: impl FnOnce() -> T) -> T {
    struct Back(Language);
    impl Drop for Back {
        fn drop(&mut self) {
            SPOKEN.set(self.0);
        }
    }
    let _back = Back(SPOKEN.replace(language));
    what()
}
