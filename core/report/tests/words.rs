//! The words are whole: each that is asked for is there, each that is there is
//! asked for.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

use std::collections::BTreeSet;
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
            let in_template = sources[..at].ends_with("w.");
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
        "answer", "advise", "band", "card", "gauge", "page", "plot", "reply", "sizes", "verdict",
        "visits",
    ];
    let named = named(&sources(), &groups);
    let missing: Vec<_> = named
        .difference(&there)
        .filter(|path| !path.ends_with(".html"))
        .collect();
    assert!(missing.is_empty(), "not in the words: {missing:?}");
    // Paths that are put together at run time: classes, urgencies, page["for"], the
    // customer's choices; and what is wrong with an answer, which the app says.
    let made = |path: &str| {
        path.starts_with("class.")
            || ["before_driving", "soon", "next_visit", "when_it_suits"]
                .iter()
                .any(|urgency| path == format!("advise.{urgency}"))
            || path == "page.for"
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
