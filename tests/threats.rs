//! `docs/threats.md` names tests and files as evidence: what it names must be there, and
//! nothing may be called met without evidence. Whether a test shows what is said of it is
//! for a reader to judge.
#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

const TEXT: &str = "docs/threats.md";

/// A file of these kinds between backticks is evidence.
const KINDS: [&str; 10] = [
    ".rs", ".py", ".ts", ".svelte", ".toml", ".json", ".xml", ".kts", ".md", ".service",
];

/// A file, and the test in it if one is named: `core/hub/tests/slow.rs: a_test`.
#[derive(Debug, PartialEq, Eq)]
struct Named<'a> {
    file: &'a str,
    test: Option<&'a str>,
}

impl<'a> Named<'a> {
    /// What stands between two backticks, if it names a file.
    fn read(code: &'a str) -> Option<Named<'a>> {
        let (file, test) = match code.split_once(": ") {
            Some((file, test)) => (file, Some(test)),
            None => (code, None),
        };
        let is_file = !file.contains(' ') && KINDS.iter().any(|kind| file.ends_with(kind));
        is_file.then_some(Named { file, test })
    }

    /// Why it is no evidence.
    fn lacks(&self) -> Option<String> {
        let Ok(code) = fs::read_to_string(root().join(self.file)) else {
            return Some(format!("{}: there is no such file", self.file));
        };
        let test = self.test?;
        let there = if self.file.ends_with(".py") {
            code.contains(&format!("\ndef {test}("))
        } else {
            is_test(&code, test)
        };
        (!there).then(|| format!("{}: it has no test {test}", self.file))
    }
}

/// Whether a function of that name is a test: it follows `#[test]`, with at most other
/// attributes and comments between.
fn is_test(code: &str, name: &str) -> bool {
    let mut marked = false;
    for line in code.lines().map(str::trim) {
        if line == "#[test]" || line.starts_with("#[tokio::test") {
            marked = true;
        } else if line.starts_with(&format!("fn {name}("))
            || line.starts_with(&format!("async fn {name}("))
        {
            return marked;
        } else if !line.starts_with("#[") && !line.starts_with("//") {
            marked = false;
        }
    }
    false
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn named(text: &str) -> Vec<Named<'_>> {
    let codes = text.split('`').skip(1).step_by(2);
    codes.filter_map(Named::read).collect()
}

fn text() -> String {
    fs::read_to_string(root().join(TEXT)).expect("the threat model")
}

#[test]
fn each_test_and_file_that_it_names_is_there() {
    let text = text();
    let named = named(&text);
    let tests = named.iter().filter(|named| named.test.is_some()).count();
    assert!(tests >= 40, "only {tests} tests were found in {TEXT}");
    let lacking: BTreeSet<String> = named.iter().filter_map(Named::lacks).collect();
    assert!(lacking.is_empty(), "{TEXT}: {lacking:#?}");
}

/// A row a point: point, in few words, how it stands, by what.
#[test]
fn no_point_is_met_without_evidence_and_none_stands_there_twice() {
    let text = text();
    let mut points = BTreeSet::new();
    for row in text.lines() {
        let cells: Vec<&str> = row.split('|').map(str::trim).collect();
        let Some(point) = cells.get(1).filter(|cell| {
            row.starts_with('|') && (cell.starts_with("v5.0.0-") || cell.starts_with("MASVS-"))
        }) else {
            continue;
        };
        assert_eq!(cells.len(), 6, "{point}: four cells a row");
        assert!(points.insert(*point), "{point} stands there twice");
        match cells[3] {
            "met" | "partly" => {
                let evidence = !named(cells[4]).is_empty() || cells[4].contains("looked for");
                assert!(evidence, "{point} is {} by nothing", cells[3]);
            }
            "not met" => assert!(!cells[4].is_empty(), "{point}: without a reason"),
            other => panic!("{point} is {other:?}: met, partly or not met"),
        }
    }
    assert!(points.len() >= 100, "only {} points", points.len());
}

#[test]
fn a_name_is_read_in_its_form_and_a_wrong_one_is_found() {
    let own = "`tests/threats.rs: a_name_is_read_in_its_form_and_a_wrong_one_is_found`";
    let named = named(own);
    assert_eq!(named.len(), 1);
    assert_eq!(named[0].lacks(), None);
    for (wrong, why) in [
        ("tests/threats.rs: no_such_test", "has no test"),
        ("tests/threats.rs: named", "has no test"),
        ("tests/no_such_file.rs: a_test", "no such file"),
        ("tests/no_such_file.rs", "no such file"),
    ] {
        let said = Named::read(wrong).and_then(|named| named.lacks());
        assert!(said.is_some_and(|said| said.contains(why)), "{wrong}");
    }
    assert_eq!(Named::read("swarfbook verify"), None);
}
