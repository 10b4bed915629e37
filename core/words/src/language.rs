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
    /// German, from the folder `de`.
    De,
    /// Spanish, not yet read by anybody whose first language it is.
    Es,
}

impl Language {
    /// All of them.
    pub const ALL: [Language; 3] = [Language::En, Language::De, Language::Es];

    /// Its tag (BCP 47), as a page's `lang` attribute and a PDF's `Lang` want it.
    pub fn tag(self) -> &'static str {
        match self {
            Language::En => "en",
            Language::De => "de",
            Language::Es => "es",
        }
    }

    /// The mark between each three digits of a large number.
    pub fn group_mark(self) -> char {
        match self {
            Language::En => ',',
            Language::De | Language::Es => '.',
        }
    }

    /// The language of a tag: `de`, `de-AT`; `None` for one that there is no catalogue of.
    pub fn of_tag(tag: &str) -> Option<Language> {
        let primary = tag.split('-').next().unwrap_or_default();
        Language::ALL
            .into_iter()
            .find(|language| language.tag().eq_ignore_ascii_case(primary))
    }

    /// The language that a browser would rather have, of those that there are
    /// (`Accept-Language`, RFC 9110); `None` when it names none of them.
    pub fn accepted(header: &str) -> Option<Language> {
        let wished = header.split(',').filter_map(|wish| {
            let mut parts = wish.split(';').map(str::trim);
            let language = Language::of_tag(parts.next()?)?;
            let weight = parts.find_map(|part| part.strip_prefix("q="));
            let weight: f32 = weight.map_or(Some(1.0), |weight| weight.parse().ok())?;
            (weight > 0.0).then_some((language, weight))
        });
        // Of equal wishes the first: a browser writes them in its order.
        let first = wished.reduce(|best, wish| if wish.1 > best.1 { wish } else { best });
        first.map(|(language, _)| language)
    }

    /// The mark between whole and fraction of a number.
    pub fn decimal_mark(self) -> char {
        match self {
            Language::En => '.',
            Language::De | Language::Es => ',',
        }
    }
}

thread_local! {
    /// Handed down a call instead of through every function that says something;
    /// only [`in_language`] sets it, and sets it back.
    static SPOKEN: Cell<Option<Language>> = const { Cell::new(None) };
}

/// The language that this call is answered in.
pub fn speaking() -> Language {
    decided().unwrap_or_default()
}

/// The language that was decided on for this call; `None` before it was.
pub fn decided() -> Option<Language> {
    SPOKEN.get()
}

/// Does `what` with everything said in `language`, on this thread.
pub fn in_language<T>(language: Language, what: impl FnOnce() -> T) -> T {
    struct Back(Option<Language>);
    impl Drop for Back {
        fn drop(&mut self) {
            SPOKEN.set(self.0);
        }
    }
    let _back = Back(SPOKEN.replace(Some(language)));
    what()
}

#[cfg(test)]
mod tests {
    use super::Language;

    #[test]
    fn a_browser_gets_what_it_would_rather_have() {
        let (en, de) = (Some(Language::En), Some(Language::De));
        let es = Some(Language::Es);
        for (header, language) in [
            ("de-AT,de;q=0.9,en;q=0.8", de),
            ("en-GB, en;q=0.9, de;q=0.8", en),
            ("es-MX,es;q=0.9,en;q=0.8", es),
            ("fr-FR,fr;q=0.9,de;q=0.5,en;q=0.4", de),
            ("en;q=0.3, DE;q=0.7", de),
            ("de;q=0, en;q=0.1", en),
            ("de;q=much", None),
            ("fr, *;q=0.5", None),
            ("", None),
        ] {
            assert_eq!(Language::accepted(header), language, "{header}");
        }
    }
}
