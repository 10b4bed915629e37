//! Every sentence of the core has its German, with the same places; and what
//! is still said in English only is counted here, not hidden.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use swarfbook_words::{Language, catalogue, places};

fn core() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else if path.extension().is_some_and(|end| end == "rs") {
            found.push(path);
        }
    }
}

/// The sources of every crate of the core beside this one and of the shell, by their names.
fn sources() -> BTreeMap<String, String> {
    let mut found = Vec::new();
    for entry in fs::read_dir(core()).unwrap() {
        let crate_dir = entry.unwrap().path();
        if crate_dir.is_dir() && !crate_dir.ends_with("words") {
            files(&crate_dir.join("src"), &mut found);
        }
    }
    files(&core().join("../src-tauri/src"), &mut found);
    found
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(core()).unwrap().display().to_string();
            (name, fs::read_to_string(&path).unwrap())
        })
        .collect()
}

/// The text of a string literal, from what follows its quotation mark.
fn literal(rest: &str) -> String {
    let mut text = String::new();
    let mut letters = rest.chars();
    while let Some(letter) = letters.next() {
        match letter {
            '"' => break,
            '\\' => match letters.next() {
                Some('n') => text.push('\n'),
                // The literal goes on in the next line, without its indent.
                Some('\n') => letters = letters.as_str().trim_start().chars(),
                Some(other) => text.push(other),
                None => break,
            },
            other => text.push(other),
        }
    }
    text
}

/// What `say!` and `term!` say, with the file that says it.
fn said() -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    for (file, source) in sources() {
        for verb in ["say!(", "term!("] {
            for (at, _) in source.match_indices(verb) {
                let rest = source[at + verb.len()..].trim_start();
                if let Some(rest) = rest.strip_prefix('"') {
                    all.insert(literal(rest), file.clone());
                }
            }
        }
    }
    all
}

/// Texts in a data file, by the names of their fields.
fn in_data(file: &str, fields: &[&str]) -> BTreeMap<String, String> {
    let text = fs::read_to_string(core().join(file)).unwrap();
    let mut all = BTreeMap::new();
    for field in fields {
        let opening = format!("{field} = \"");
        for (at, _) in text.match_indices(&opening) {
            if !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
                all.insert(literal(&text[at + opening.len()..]), file.to_owned());
            }
        }
    }
    all
}

/// Every English text that must have a German one.
fn english() -> BTreeMap<String, String> {
    let mut all = said();
    // Every version: a job is told by the one that it began with.
    for file in fs::read_dir(core().join("job/procedures")).unwrap() {
        let name = file.unwrap().file_name().into_string().unwrap();
        all.extend(in_data(
            &format!("job/procedures/{name}"),
            &["title", "text", "why", "caution", "label", "what"],
        ));
    }
    all.extend(in_data("measure/src/code/codes.toml", &["says"]));
    all
}

/// What a photo's reading says of itself is written in the log in English, and
/// put into the language that is spoken when it is shown.
fn kept_in_logs() -> BTreeSet<String> {
    let sources = sources();
    [
        "debris/src/reading.rs",
        "debris/src/limits.rs",
        "debris/src/picture/decode.rs",
    ]
    .iter()
    .flat_map(|file| {
        let source = sources[*file].split("#[cfg(test)]").next().unwrap();
        source
            .match_indices('"')
            .map(|(at, _)| literal(&source[at + 1..]))
    })
    .collect()
}

#[test]
fn every_sentence_has_its_german() {
    let german = catalogue(Language::De).unwrap();
    let english = english();
    assert!(english.len() > 800, "only {} were found", english.len());
    let missing: Vec<_> = english
        .iter()
        .filter(|(text, _)| !german.contains_key(*text))
        .collect();
    assert!(missing.is_empty(), "no German for {missing:#?}");
}

#[test]
fn what_a_photo_says_of_itself_has_its_german() {
    let german = catalogue(Language::De).unwrap();
    let kept = kept_in_logs();
    let sentences: Vec<_> = kept
        .iter()
        .filter(|text| text.contains(' ') && text.ends_with('.') && !text.starts_with('.'))
        .collect();
    assert!(sentences.len() > 10, "only {sentences:#?}");
    let missing: Vec<_> = sentences
        .into_iter()
        .filter(|text| !german.contains_key(*text))
        .collect();
    assert!(missing.is_empty(), "no German for {missing:#?}");
}

#[test]
fn no_german_is_left_of_a_sentence_that_is_gone() {
    let (english, kept) = (english(), kept_in_logs());
    let left: Vec<_> = catalogue(Language::De)
        .unwrap()
        .keys()
        .filter(|text| !english.contains_key(*text) && !kept.contains(*text))
        .collect();
    assert!(left.is_empty(), "nobody says {left:#?}");
}

#[test]
fn a_german_sentence_shows_all_that_the_english_one_shows() {
    let sorted = |text| {
        let mut places = places(text);
        places.sort_unstable();
        places
    };
    for (english, german) in catalogue(Language::De).unwrap() {
        assert_eq!(sorted(german), sorted(english), "{english}");
        // Blanks at its ends join it to others.
        assert_eq!(
            german.starts_with(' '),
            english.starts_with(' '),
            "{german}"
        );
        assert_eq!(german.ends_with(' '), english.ends_with(' '), "{german}");
    }
}

#[test]
fn german_is_quoted_and_spelled_as_german() {
    for german in catalogue(Language::De).unwrap().values() {
        assert!(!german.contains(['"', '\'', '’', '‘']), "{german}");
        let (open, close) = (german.matches('„').count(), german.matches('“').count());
        assert_eq!(open, close, "{german}");
        for digraph in ["fuer", "ueber", "pruef", "loesch", "groess", "getriebeoel"] {
            assert!(!german.to_lowercase().contains(digraph), "{german}");
        }
    }
}
