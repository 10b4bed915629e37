//! Every message has somebody who says it, with the values that it shows, and every text of data
//! that ships has its message. (That each language has each message with the same values, and
//! that Rust says it rightly, the build itself sees.)
#![allow(clippy::unwrap_used, clippy::panic)] // helpers are not #[test] functions

mod common;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use common::{Message, messages, root};

fn files(folder: &Path, end: &str, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, end, found);
        } else if path.extension().is_some_and(|of| of == end) {
            found.push(path);
        }
    }
}

/// All files of a kind below these folders, one text.
fn all(folders: &[&str], end: &str) -> String {
    let mut found = Vec::new();
    for folder in folders {
        files(&root().join(folder), end, &mut found);
    }
    found.sort();
    let texts = found.iter().map(|path| fs::read_to_string(path).unwrap());
    texts.collect::<Vec<_>>().join("\n")
}

/// Sources of the crates and of the shell.
fn rust() -> String {
    let core = fs::read_dir(root().join("core")).unwrap();
    let mut folders: Vec<String> = core
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.join("src").is_dir())
        .map(|path| format!("core/{}/src", path.file_name().unwrap().display()))
        .collect();
    folders.push("src-tauri/src".to_owned());
    let folders: Vec<&str> = folders.iter().map(String::as_str).collect();
    all(&folders, "rs")
}

fn templates() -> String {
    all(&["core/report/templates", "core/hub/templates"], "html")
}

/// What stands between quotation marks right behind each of these openings.
fn quoted(source: &str, opening: &str, quote: char) -> BTreeSet<String> {
    let behind = source
        .match_indices(opening)
        .map(|(at, _)| &source[at + opening.len()..]);
    behind
        .filter_map(|rest| rest.trim_start().strip_prefix(quote)?.split_once(quote))
        .map(|(id, _)| id.to_owned())
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

/// Texts in a data file, by the names of their fields.
fn in_data(file: &Path, fields: &[&str]) -> BTreeSet<String> {
    let text = fs::read_to_string(file).unwrap();
    let mut all = BTreeSet::new();
    for field in fields {
        let opening = format!("{field} = \"");
        for (at, _) in text.match_indices(&opening) {
            if !text[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
                all.insert(literal(&text[at + opening.len()..]));
            }
        }
    }
    all
}

/// Texts of the procedures that ship, of every version, since a job is told by the one that it
/// began with; and of the table of codes.
fn of_data() -> BTreeSet<String> {
    let mut procedures = Vec::new();
    files(&root().join("core/job/procedures"), "toml", &mut procedures);
    let fields = ["title", "text", "why", "caution", "label", "what"];
    let mut all: BTreeSet<String> = procedures
        .iter()
        .flat_map(|file| in_data(file, &fields))
        .collect();
    all.extend(in_data(
        &root().join("core/measure/src/code/codes.toml"),
        &["says"],
    ));
    all.remove("");
    all
}

/// What earlier versions said of a photo, which their logs hold.
const OF_PHOTOS_BEFORE: [&str; 1] =
    ["The photo is damaged and can't be read ({}). Copy it again or take it again."];

/// What a photo's reading says of itself, which is written in the log in English. Each place is
/// `{}`.
fn of_photos() -> BTreeSet<String> {
    let mut all = BTreeSet::from(OF_PHOTOS_BEFORE.map(str::to_owned));
    for file in ["reading.rs", "limits.rs", "picture/decode.rs"] {
        let source = fs::read_to_string(root().join("core/debris/src").join(file)).unwrap();
        let source = source.split("#[cfg(test)]").next().unwrap();
        for (at, _) in source.match_indices('"') {
            let text = literal(&source[at + 1..]);
            if text.contains(' ') && text.ends_with('.') && !text.starts_with('.') {
                all.insert(bare(&text));
            }
        }
    }
    all
}

/// A text without the names of its places.
fn bare(text: &str) -> String {
    let mut parts = text.split('{');
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |told, part| {
        told + "{}" + part.split_once('}').map_or("", |(_, rest)| rest)
    })
}

fn english() -> Vec<Message> {
    let all = messages("en");
    assert!(all.len() > 2_500, "only {} were found", all.len());
    all
}

#[test]
fn every_message_has_somebody_who_says_it() {
    let rust = rust();
    let mut said = BTreeSet::new();
    for opening in ["say!(", "term!(", "id!("] {
        said.extend(quoted(&rust, opening, '"'));
    }
    said.extend(quoted(&templates(), "say(", '"'));
    said.extend(quoted(&all(&["ui/src"], "ts"), "say(", '\''));
    said.extend(quoted(&all(&["ui/src"], "svelte"), "say(", '\''));
    // Of the checking page each word is by its name, those for what is wrong by its kind.
    let page = all(&["core/verifier/page"], "html")
        + &all(&["core/verifier/page"], "js")
        + &fs::read_to_string(root().join("ui/tools/verify-page.mjs")).unwrap();
    let data: BTreeSet<String> = of_data().union(&of_photos()).cloned().collect();
    let nobody: Vec<_> = english()
        .into_iter()
        .filter(|message| match message.file.as_str() {
            "verifier.ftl" => {
                let name = message.id["verifier-".len()..].replace('-', "_");
                let fault = name.starts_with("faults_");
                !fault
                    && !page.contains(&format!("words.{name}"))
                    && !page.contains(&format!("data-word=\"{name}\""))
                    && !page.contains(&format!("said.{name}"))
            }
            _ => {
                // A template puts the end of an id together of what it is given.
                let begun = said
                    .iter()
                    .any(|id| id.ends_with('-') && message.id.starts_with(id));
                let shown = message.texts.iter().any(|text| data.contains(&bare(text)));
                !said.contains(&message.id) && !begun && !shown
            }
        })
        .map(|message| format!("{}: {}", message.file, message.id))
        .collect();
    assert!(nobody.is_empty(), "nobody says {nobody:#?}");
}

#[test]
fn every_text_of_data_has_its_message() {
    let texts: BTreeSet<String> = english()
        .into_iter()
        .flat_map(|message| message.texts)
        .map(|text| bare(&text))
        .collect();
    for (what, data, least) in [("data", of_data(), 150), ("photos", of_photos(), 10)] {
        assert!(data.len() > least, "{what}: only {}", data.len());
        let missing: Vec<_> = data.difference(&texts).collect();
        assert!(missing.is_empty(), "no message says {missing:#?}");
    }
}

/// The ids that templates say, with the names of the values that they give.
fn in_templates() -> Vec<(String, BTreeSet<String>)> {
    let source = templates();
    let calls = source
        .match_indices("say(\"")
        .map(|(at, _)| &source[at + 5..]);
    let mut found = Vec::new();
    for rest in calls {
        let (id, mut rest) = rest.split_once('"').unwrap();
        let mut given = BTreeSet::new();
        let mut depth = 1;
        while depth > 0 {
            let (at, sign) = rest
                .char_indices()
                .find(|(_, c)| matches!(c, '(' | ')' | '=' | ','))
                .unwrap();
            match sign {
                '(' => depth += 1,
                ')' => depth -= 1,
                '=' if depth == 1 => {
                    given.insert(rest[..at].trim().to_owned());
                }
                _ => {}
            }
            rest = &rest[at + 1..];
        }
        if !id.ends_with('-') {
            found.push((id.to_owned(), given));
        }
    }
    found
}

#[test]
fn templates_give_what_a_message_shows() {
    let all: BTreeMap<String, BTreeSet<String>> = english()
        .into_iter()
        .map(|message| (message.id, message.values))
        .collect();
    let found = in_templates();
    assert!(found.len() > 150, "only {}", found.len());
    assert!(found.iter().filter(|(_, given)| !given.is_empty()).count() > 15);
    for (id, given) in found {
        let values = all.get(&id).unwrap_or_else(|| panic!("no message {id}"));
        assert_eq!(*values, given, "{id}");
    }
}
