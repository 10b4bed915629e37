//! English sentence to the sentence of another language.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::Language;

const DE: &str = include_str!("catalogue/de.json");

/// Every sentence of a language by its English; none for English itself.
pub fn catalogue(language: Language) -> Option<&'static BTreeMap<String, String>> {
    static GERMAN: OnceLock<BTreeMap<String, String>> = OnceLock::new();
    match language {
        Language::En => None,
        // A file that can't be read leaves English; a test reads it.
        Language::De => Some(GERMAN.get_or_init(|| serde_json::from_str(DE).unwrap_or_default())),
    }
}

/// The places of a sentence in the order of its text: `{}` is the next one,
/// `{1}` the one of that number. A place with a name, as in a format string, is
/// the next one too.
pub fn places(sentence: &str) -> Vec<usize> {
    let mut next = 0;
    let mut places = Vec::new();
    let mut rest = sentence;
    while let Some((_, name, after)) = place(rest) {
        places.push(name.parse().unwrap_or(next));
        next += usize::from(name.parse::<usize>().is_err());
        rest = after;
    }
    places
}

/// The first place: what is before it, its number, what is after.
pub(crate) fn place(text: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = text.split_once('{')?;
    let (name, after) = rest.split_once('}')?;
    Some((before, name, after))
}
