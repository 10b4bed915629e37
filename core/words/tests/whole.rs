//! What a language must keep beside the messages themselves.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;

use std::collections::BTreeMap;

use common::messages;

/// Every text by its id and which of its choices it is.
fn texts(language: &str) -> BTreeMap<String, Vec<String>> {
    let all = messages(language).into_iter();
    all.map(|message| (message.id, message.texts)).collect()
}

#[test]
fn what_joins_in_english_joins_in_every_language() {
    let english = texts("en");
    for language in ["de", "es"] {
        for (id, told) in texts(language) {
            // Blanks at its ends join it to others.
            let ends = |all: &[String]| {
                let starts = all.iter().any(|text| text.starts_with(' '));
                (starts, all.iter().any(|text| text.ends_with(' ')))
            };
            assert_eq!(ends(&told), ends(&english[&id]), "{language}: {id}");
        }
    }
}

#[test]
fn german_is_quoted_and_spelled_as_german() {
    for message in messages("de") {
        for text in message.texts {
            assert!(!text.contains(['"', '\'', '’', '‘']), "{text}");
            let (open, close) = (text.matches('„').count(), text.matches('“').count());
            assert_eq!(open, close, "{text}");
            for digraph in ["fuer", "ueber", "pruef", "loesch", "groess", "getriebeoel"] {
                assert!(!text.to_lowercase().contains(digraph), "{text}");
            }
        }
    }
}

#[test]
fn spanish_is_quoted_and_asked_as_spanish() {
    for message in messages("es") {
        for text in message.texts {
            assert!(!text.contains(['"', '“', '”', '‘', '’']), "{text}");
            for (open, close) in [('«', '»'), ('¿', '?'), ('¡', '!')] {
                let (opened, closed) = (text.matches(open).count(), text.matches(close).count());
                assert_eq!(opened, closed, "{text}");
            }
        }
    }
}
