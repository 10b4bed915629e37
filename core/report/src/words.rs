//! The fixed texts of the report in its own language, whichever one is spoken around it.

use std::fmt::Display;

use chrono::Datelike;
use swarfbook_wear::Band;
use swarfbook_words::{Language, id, in_language};

use crate::content::Method;

/// The texts in one language.
#[derive(Debug, Clone, Copy)]
pub struct Words {
    language: Language,
}

const MONTHS: [&str; 12] = [
    id!("report-months-1"),
    id!("report-months-2"),
    id!("report-months-3"),
    id!("report-months-4"),
    id!("report-months-5"),
    id!("report-months-6"),
    id!("report-months-7"),
    id!("report-months-8"),
    id!("report-months-9"),
    id!("report-months-10"),
    id!("report-months-11"),
    id!("report-months-12"),
];

impl Words {
    /// The texts of a language by its tag (BCP 47); English where there is no other yet.
    pub fn of(lang: &str) -> Words {
        let language = language_of(lang);
        Words { language }
    }

    /// A text that is given nothing.
    pub fn get<'a>(&self, id: &'a str) -> &'a str {
        in_language(self.language, || swarfbook_words::term(id))
    }

    /// A text with its values.
    pub fn fill(&self, id: &str, values: &[(&str, &str)]) -> String {
        let values: Vec<(&str, &dyn Display)> = values
            .iter()
            .map(|(name, value)| (*name, value as &dyn Display))
            .collect();
        in_language(self.language, || swarfbook_words::say(id, &values))
    }

    /// What a band means, for who knows nothing of gearboxes.
    pub fn band_plain(&self, band: Band) -> &'static str {
        self.get(match band {
            Band::Clean => id!("report-band-clean-plain"),
            Band::Settled => id!("report-band-settled-plain"),
            Band::Active => id!("report-band-active-plain"),
            Band::Heavy => id!("report-band-heavy-plain"),
            Band::Failing => id!("report-band-failing-plain"),
        })
    }

    /// "25 November 2026", "25. November 2026".
    pub fn day(&self, at: impl Datelike) -> String {
        let (day, year) = (at.day().to_string(), at.year().to_string());
        let month = MONTHS
            .get(at.month0() as usize)
            .map_or("", |id| self.get(id));
        let values = [("day", day.as_str()), ("month", month), ("year", &year)];
        self.fill(id!("report-page-day"), &values)
    }

    /// The usual cautions, for [`crate::Content::cautions`].
    pub fn cautions(&self) -> Vec<String> {
        self.list([
            id!("report-cautions-1"),
            id!("report-cautions-2"),
            id!("report-cautions-3"),
        ])
    }

    /// What photos can't show, for [`crate::Content::photo_limits`].
    pub fn photo_limits(&self) -> Vec<String> {
        self.list([
            id!("report-photo-limits-1"),
            id!("report-photo-limits-2"),
            id!("report-photo-limits-3"),
        ])
    }

    fn list<const N: usize>(&self, ids: [&'static str; N]) -> Vec<String> {
        ids.map(|id| self.get(id).to_owned()).to_vec()
    }

    /// How the figures are made, for [`crate::Content::method`].
    pub fn method(&self) -> Vec<Method> {
        let parts = [
            (id!("report-method-1-title"), id!("report-method-1-text")),
            (id!("report-method-2-title"), id!("report-method-2-text")),
            (id!("report-method-3-title"), id!("report-method-3-text")),
            (id!("report-method-4-title"), id!("report-method-4-text")),
            (id!("report-method-5-title"), id!("report-method-5-text")),
        ];
        let parts = parts.map(|(title, text)| Method {
            title: self.get(title).to_owned(),
            text: self.get(text).to_owned(),
        });
        parts.to_vec()
    }
}

/// The language that a report of this tag speaks.
pub(crate) fn language_of(lang: &str) -> Language {
    Language::of_tag(lang).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_that_looks_like_a_place_is_left_alone() {
        let filled = Words::of("en").fill(
            id!("report-gauge-score-line"),
            &[("score", "{$lo}"), ("lo", "1"), ("hi", "2")],
        );
        assert!(filled.contains("{$lo}"), "{filled}");
    }
}
