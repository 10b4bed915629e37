//! One term a thing: `docs/words.md` is short, and what it refuses is nowhere to be read.
#![allow(clippy::unwrap_used, clippy::panic)] // helpers are not #[test] functions

mod common;

use std::fs;

use common::{messages, root, without_places};

const MOST: usize = 40;

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap()
}

/// Each word of the glossary, with those that are not to be used for it.
fn glossary() -> Vec<(String, Vec<String>)> {
    let text = read("docs/words.md");
    let rows = text.lines().filter(|line| line.starts_with("| "));
    rows.skip(2)
        .map(|row| {
            let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
            let [word, what, not] = cells.as_slice() else {
                panic!("three cells: {row}")
            };
            assert!(!what.is_empty(), "{word} says nothing");
            let not = not.split(',').map(|word| word.trim().to_lowercase());
            let not = not.filter(|word| !word.is_empty()).collect();
            ((*word).to_owned(), not)
        })
        .collect()
}

/// Prose of a document: neither code nor what a table says of other people's crates.
fn prose(text: &str) -> Vec<String> {
    let mut texts = Vec::new();
    for (at, block) in text.split("```").enumerate() {
        let lines = block
            .lines()
            .filter(|line| at % 2 == 0 && !line.starts_with("| `"));
        for line in lines {
            let spans = line.split('`').step_by(2);
            texts.push(spans.collect::<Vec<_>>().join(" "));
        }
    }
    texts
}

/// All that is to be read in English, by where it stands.
fn texts() -> Vec<(String, String)> {
    let mut all = Vec::new();
    // A version of the procedure that shipped is never edited.
    let shipped: String = (1..=4)
        .map(|version| {
            read(&format!(
                "core/job/procedures/pan-service-electrical-{version}.toml"
            ))
        })
        .collect();
    for message in messages("en") {
        let texts = message.texts.into_iter();
        let said = texts.filter(|text| !shipped.contains(&format!("\"{text}\"")));
        all.extend(said.map(|text| (message.file.clone(), without_places(&text))));
    }
    for document in ["README.md", "DEVELOPERS.md"] {
        let said = prose(&read(document));
        all.extend(said.into_iter().map(|text| (document.to_owned(), text)));
    }
    all
}

/// The word stands there whole.
fn holds(text: &str, word: &str) -> bool {
    let text = text.to_lowercase();
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric() && c != '-' && c != '_');
    text.match_indices(word).any(|(at, found)| {
        edge(text[..at].chars().next_back()) && edge(text[at + found.len()..].chars().next())
    })
}

#[test]
fn the_glossary_is_short_and_names_each_word_once() {
    let mut words: Vec<String> = glossary().into_iter().map(|(word, _)| word).collect();
    assert!((1..=MOST).contains(&words.len()), "{} words", words.len());
    let all = words.len();
    words.sort();
    words.dedup();
    assert_eq!(words.len(), all, "a word stands there twice");
}

#[test]
fn nothing_is_called_by_a_word_that_the_glossary_refuses() {
    let texts = texts();
    assert!(texts.len() > 2_000, "{} texts", texts.len());
    let mut found = Vec::new();
    for (word, refused) in glossary() {
        for not in refused {
            let held = texts.iter().filter(|(_, text)| holds(text, &not));
            found.extend(held.map(|(place, text)| format!("{place}: {not} ({word}): {text}")));
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// What the second test would miss if it read nothing.
#[test]
fn whole_words_are_found_in_any_case() {
    assert!(holds("The Census, confirmed", "census"));
    assert!(!holds("a censused thing", "census"));
}
