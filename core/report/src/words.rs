//! Every fixed text of the report, one file a language, so that it can be
//! translated without touching code. `words/en.json` is the first, `words/de.json` the second.

use chrono::Datelike;
use serde::Deserialize;
use serde_json::Value;
use swarfbook_wear::Band;
use swarfbook_words::Language;

use crate::ReportError;
use crate::content::Method;

const EN: &str = include_str!("words/en.json");
const DE: &str = include_str!("words/de.json");

/// The texts of one language.
#[derive(Debug, Clone)]
pub struct Words {
    tree: Value,
    lists: Lists,
}

/// Texts that come as lists.
#[derive(Debug, Clone, Deserialize)]
struct Lists {
    months: Vec<String>,
    cautions: Vec<String>,
    photo_limits: Vec<String>,
    method: Vec<Method>,
}

impl Words {
    /// The texts of a language by its tag (BCP 47); English where there is no other yet.
    ///
    /// # Errors
    /// [`ReportError::Words`] when the file is not whole; the tests read each.
    pub fn of(lang: &str) -> Result<Words, ReportError> {
        let file = match language_of(lang) {
            Language::En => EN,
            Language::De => DE,
        };
        let tree: Value = serde_json::from_str(file).map_err(ReportError::Words)?;
        let lists = Lists::deserialize(&tree).map_err(ReportError::Words)?;
        Ok(Words { tree, lists })
    }

    /// The text at a path such as "answer.saved_unknown". A path that is not
    /// there gives the path, so that a slip shows instead of a gap; a test
    /// looks for slips.
    pub fn get<'a>(&'a self, path: &'a str) -> &'a str {
        self.find(path).unwrap_or(path)
    }

    /// The same, when it is there.
    pub fn find(&self, path: &str) -> Option<&str> {
        path.split('.')
            .try_fold(&self.tree, |at, part| at.get(part))
            .and_then(Value::as_str)
    }

    /// The text at a path, its `{name}` places filled.
    pub fn fill(&self, path: &str, values: &[(&str, &str)]) -> String {
        let mut rest = self.get(path);
        let mut filled = String::with_capacity(rest.len());
        // One pass, so that a value which looks like a place is not filled again.
        while let Some((before, name, after)) = place(rest) {
            filled.push_str(before);
            match values.iter().find(|(known, _)| *known == name) {
                Some((_, value)) => filled.push_str(value),
                None => filled.push_str(name),
            }
            rest = after;
        }
        filled.push_str(rest);
        filled
    }

    /// What a band means, for who knows nothing of gearboxes.
    pub fn band_plain(&self, band: Band) -> &str {
        self.get(match band {
            Band::Clean => "band.clean.plain",
            Band::Settled => "band.settled.plain",
            Band::Active => "band.active.plain",
            Band::Heavy => "band.heavy.plain",
            Band::Failing => "band.failing.plain",
        })
    }

    /// The whole tree, for templates.
    pub(crate) fn tree(&self) -> &Value {
        &self.tree
    }

    /// "25 November 2026", "25. November 2026".
    pub fn day(&self, at: impl Datelike) -> String {
        let (day, month, year) = (
            at.day().to_string(),
            self.month(at.month()),
            at.year().to_string(),
        );
        self.fill(
            "page.day",
            &[("day", &day), ("month", month), ("year", &year)],
        )
    }

    /// Name of a month, 1 to 12.
    fn month(&self, month: u32) -> &str {
        let at = usize::try_from(month.saturating_sub(1)).unwrap_or(usize::MAX);
        self.lists.months.get(at).map_or("", String::as_str)
    }

    /// The usual cautions, for [`crate::Content::cautions`].
    pub fn cautions(&self) -> Vec<String> {
        self.lists.cautions.clone()
    }

    /// What photos can't show, for [`crate::Content::photo_limits`].
    pub fn photo_limits(&self) -> Vec<String> {
        self.lists.photo_limits.clone()
    }

    /// How the figures are made, for [`crate::Content::method`].
    pub fn method(&self) -> Vec<Method> {
        self.lists.method.clone()
    }
}

/// The language that a report of this tag speaks.
pub(crate) fn language_of(lang: &str) -> Language {
    Language::of_tag(lang).unwrap_or_default()
}

/// The first `{name}`: what is before it, the name, what is after.
fn place(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once('{')?;
    let (name, after) = rest.split_once('}')?;
    Some((before, name, after))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_that_looks_like_a_place_is_left_alone() {
        let words = Words::of("en").unwrap();
        let filled = words.fill(
            "gauge.score_line",
            &[("score", "{lo}"), ("lo", "1"), ("hi", "2")],
        );
        assert!(filled.contains("{lo}"), "{filled}");
    }

    #[test]
    fn a_path_that_is_not_there_shows() {
        assert_eq!(Words::of("en").unwrap().get("no.such"), "no.such");
    }
}
