//! The words are whole: each that is asked for is there, each that is there is
//! asked for.
#![allow(clippy::panic, clippy::unwrap_used)] // helpers are not #[test] functions

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;

fn files(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, found);
        } else {
            found.push(path);
        }
    }
}

fn sources() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    files(&root.join("src"), &mut found);
    files(&root.join("templates"), &mut found);
    // What the letter says of a job is put together there.
    files(&root.join("../app/src/report"), &mut found);
    files(&root.join("../app/src/serve"), &mut found);
    found
        .iter()
        .filter(|path| {
            path.extension()
                .is_some_and(|end| end == "rs" || end == "html")
        })
        .map(|path| fs::read_to_string(path).unwrap())
        .collect()
}

fn leaves(tree: &Value, path: &str, all: &mut BTreeSet<String>) {
    match tree {
        Value::Object(fields) => {
            for (name, value) in fields {
                let path = if path.is_empty() {
                    name.clone()
                } else {
                    format!("{path}.{name}")
                };
                leaves(value, &path, all);
            }
        }
        Value::String(_) => {
            all.insert(path.to_owned());
        }
        _ => {}
    }
}

/// Paths that a source names: "answer.do_look" in Rust, w.page.car in a template.
fn named(sources: &str, groups: &[&str]) -> BTreeSet<String> {
    let mut named = BTreeSet::new();
    for group in groups {
        for (at, _) in sources.match_indices(&format!("{group}.")) {
            let before = sources[..at].chars().next_back();
            let in_template = sources[..at]
                .strip_suffix("w.")
                .is_some_and(|before| !before.ends_with(char::is_alphanumeric));
            if before == Some('"') || in_template {
                let path: String = sources[at..]
                    .chars()
                    .take_while(|c| c.is_ascii_lowercase() || matches!(c, '.' | '_'))
                    .collect();
                named.insert(path);
            }
        }
    }
    named
}

#[test]
fn words_and_sources_agree() {
    let tree: Value = serde_json::from_str(include_str!("../src/words/en.json")).unwrap();
    let mut there = BTreeSet::new();
    leaves(&tree, "", &mut there);
    let groups = [
        "answer",
        "advise",
        "annex",
        "band",
        "brief",
        "card",
        "gauge",
        "letter",
        "mended",
        "page",
        "plot",
        "reply",
        "row",
        "sizes",
        "verdict",
        "visits",
        "withdrawn",
    ];
    let named = named(&sources(), &groups);
    let missing: Vec<_> = named
        .difference(&there)
        .filter(|path| !path.ends_with(".html"))
        .collect();
    assert!(missing.is_empty(), "not in the words: {missing:?}");
    // Paths that are put together at run time: urgencies, page["for"], the
    // customer's choices; and what is wrong with an answer or left out of a copy, which
    // the app says.
    let made = |path: &str| {
        ["before_driving", "soon", "next_visit", "when_it_suits"]
            .iter()
            .any(|urgency| path == format!("advise.{urgency}"))
            || path == "page.for"
            || [
                "left_out_customer",
                "left_out_customer_kept",
                "left_out_car",
            ]
            .iter()
            .any(|said| path == format!("page.{said}"))
            || ["agree", "decline", "ask", "name_missing", "none_chosen"]
                .iter()
                .any(|said| path == format!("reply.{said}"))
    };
    let unused: Vec<_> = there
        .difference(&named)
        .filter(|path| !made(path))
        .collect();
    assert!(unused.is_empty(), "nobody says: {unused:?}");
}

const EN: &str = include_str!("../src/words/en.json");
const DE: &str = include_str!("../src/words/de.json");

/// Every text by its path, those in lists too.
fn texts(tree: &Value, path: &str, all: &mut BTreeMap<String, String>) {
    match tree {
        Value::Object(fields) => fields
            .iter()
            .for_each(|(name, value)| texts(value, &format!("{path}.{name}"), all)),
        Value::Array(list) => list
            .iter()
            .enumerate()
            .for_each(|(n, value)| texts(value, &format!("{path}.{n}"), all)),
        Value::String(text) => {
            all.insert(path.to_owned(), text.clone());
        }
        _ => panic!("{path} is no text"),
    }
}

fn catalogue(json: &str) -> BTreeMap<String, String> {
    let mut all = BTreeMap::new();
    texts(&serde_json::from_str(json).unwrap(), "", &mut all);
    all
}

fn places(text: &str) -> BTreeSet<&str> {
    text.split('{')
        .skip(1)
        .filter_map(|rest| rest.split('}').next())
        .collect()
}

#[test]
fn german_has_every_text_with_the_same_places() {
    let (english, german) = (catalogue(EN), catalogue(DE));
    assert_eq!(
        german.keys().collect::<Vec<_>>(),
        english.keys().collect::<Vec<_>>()
    );
    // Names of months, and words that both languages have.
    let same = ["April", "August", "September", "November"];
    for (path, text) in &german {
        assert_eq!(places(text), places(&english[path]), "{path}");
        assert!(
            *text != english[path] || same.contains(&text.as_str()),
            "{path} was left in English"
        );
        assert!(!text.contains('"') && !text.contains('’'), "{path}");
    }
}

/// Groups of vowels; a diphthong is one group, "öffnen" and "Öl" as they stand.
fn syllables(word: &str) -> usize {
    let mut count = 0;
    let mut before: Option<char> = None;
    for letter in word.to_lowercase().chars() {
        let vowel = "aeiouyäöü".contains(letter);
        let diphthong = before.is_some_and(|first| {
            ["ei", "ai", "au", "eu", "äu", "ie", "ey", "ee", "aa", "oo"]
                .contains(&format!("{first}{letter}").as_str())
        });
        count += usize::from(vowel && !diphthong);
        // Three vowels in a row are a diphthong and one more.
        before = (vowel && !diphthong).then_some(letter);
    }
    count.max(1)
}

/// The first Wiener Sachtextformel (Bamberger and Vanecek, Lesen, Verstehen,
/// Lernen, Schreiben, 1984): the school year that a factual text is fit for.
fn school_year(texts: &[&str]) -> f64 {
    let sentences = texts
        .iter()
        .flat_map(|text| text.split(['.', '!', '?', ':', ';']))
        .filter(|part| !part.trim().is_empty())
        .count() as f64;
    let words: Vec<&str> = texts
        .iter()
        .flat_map(|text| text.split(|c: char| !c.is_alphabetic()))
        .filter(|word| !word.is_empty())
        .collect();
    let all = words.len() as f64;
    let share = |is: &dyn Fn(&str) -> bool| {
        100.0 * words.iter().filter(|word| is(word)).count() as f64 / all
    };
    let long = share(&|word| syllables(word) >= 3);
    let letters = share(&|word| word.chars().count() > 6);
    let short = share(&|word| syllables(word) == 1);
    0.1935 * long + 0.1672 * (all / sentences) + 0.1297 * letters - 0.0327 * short - 0.875
}

#[test]
fn german_syllables_are_counted_as_they_are_spoken() {
    for (word, count) in [
        ("Öl", 1),
        ("Getriebe", 3),
        ("öffnen", 2),
        ("Ölwanne", 3),
        ("neues", 2),
        ("Sie", 1),
        ("Verschleiß", 2),
        ("Reparatur", 4),
        ("Feuer", 2),
    ] {
        assert_eq!(syllables(word), count, "{word}");
    }
}

#[test]
fn the_german_answer_and_advice_are_for_a_reader_of_twelve() {
    let german = catalogue(DE);
    let said: Vec<&str> = german
        .iter()
        .filter(|(path, _)| {
            ["answer", "advise", "mended", "brief", "letter"]
                .iter()
                .any(|group| path.starts_with(&format!(".{group}.")))
        })
        .map(|(_, text)| text.as_str())
        .collect();
    let year = school_year(&said);
    eprintln!(
        "first Wiener Sachtextformel: {year:.1} over {} texts",
        said.len()
    );
    // Twelve-year-olds are in the sixth or seventh year.
    assert!(year <= 7.0, "school year {year:.1}");
}

/// Flesch's reading ease (R. Flesch, A new readability yardstick, Journal of Applied
/// Psychology 32, 1948): 206.835 - 1.015 words a sentence - 84.6 syllables a word.
fn reading_ease(texts: &[&str]) -> f64 {
    let sentences = texts
        .iter()
        .flat_map(|text| text.split(['.', '!', '?', ':', ';']))
        .filter(|part| !part.trim().is_empty())
        .count() as f64;
    let words: Vec<&str> = texts
        .iter()
        .flat_map(|text| text.split(|c: char| !c.is_alphabetic() && c != '\''))
        .filter(|word| !word.is_empty())
        .collect();
    let all = words.len() as f64;
    let spoken: usize = words.iter().map(|word| english_syllables(word)).sum();
    206.835 - 1.015 * (all / sentences) - 84.6 * (spoken as f64 / all)
}

/// Groups of vowels, a silent e at the end left out.
fn english_syllables(word: &str) -> usize {
    let word = word.to_lowercase();
    let vowel = |c: char| "aeiouy".contains(c);
    let groups = word
        .split(|c: char| !vowel(c))
        .filter(|group| !group.is_empty())
        .count();
    let silent = word.ends_with('e') && !word.ends_with("le") && groups > 1;
    (groups - usize::from(silent)).max(1)
}

#[test]
fn english_syllables_are_counted_as_they_are_spoken() {
    for (word, count) in [
        ("oil", 1),
        ("gearbox", 2),
        ("wheel", 1),
        ("before", 2),
        ("little", 2),
        ("repair", 2),
        ("money", 2),
    ] {
        assert_eq!(english_syllables(word), count, "{word}");
    }
}

#[test]
fn the_english_letter_is_plain() {
    let english = catalogue(EN);
    let said: Vec<&str> = english
        .iter()
        .filter(|(path, _)| {
            ["answer", "advise", "mended", "brief", "letter"]
                .iter()
                .any(|group| path.starts_with(&format!(".{group}.")))
        })
        .map(|(_, text)| text.as_str())
        .collect();
    let ease = reading_ease(&said);
    eprintln!("Flesch reading ease: {ease:.0} over {} texts", said.len());
    // 70 to 80 is "fairly easy", the level of twelve-year-olds, in Flesch's own table.
    assert!(ease >= 70.0, "{ease:.0}");
}

/// What the owner did not understand when the report was read to one.
#[test]
fn the_letter_has_no_word_of_the_trade() {
    let strange = [
        "census",
        "Feret",
        "L*a*b*",
        "CIELAB",
        "Poisson",
        "hash",
        "ISO",
        "JCGM",
        "settled step",
        "step settled",
        "Garwood",
        "k = 2",
    ];
    for json in [EN, DE] {
        for (path, text) in catalogue(json) {
            let of_letter = [
                "answer", "advise", "mended", "brief", "letter", "row", "cautions",
            ]
            .iter()
            .any(|group| path.starts_with(&format!(".{group}")));
            if of_letter {
                for word in strange {
                    assert!(!text.contains(word), "{path}: {text}");
                }
            }
        }
    }
}
