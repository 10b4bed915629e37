//! No file is longer than one can keep in mind.
#![allow(clippy::expect_used)] // in helpers of tests, too

use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};

const MOST_LINES: usize = 500;
const FOLDERS: [&str; 4] = ["core", "src-tauri", "tests", "ui"];
const KINDS: [&str; 6] = ["rs", "ts", "svelte", "mjs", "py", "css"];
/// What is built or fetched.
const NOT_OURS: [&str; 4] = ["node_modules", "target", "dist", "gen"];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path.file_name().and_then(OsStr::to_str).unwrap_or_default();
        let kind = path.extension().and_then(OsStr::to_str);
        if path.is_dir() && !NOT_OURS.contains(&name) {
            sources(&path, found);
        } else if kind.is_some_and(|kind| KINDS.contains(&kind)) {
            found.push(path);
        }
    }
}

#[test]
fn no_file_is_over_500_lines() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut found = Vec::new();
    for folder in FOLDERS {
        sources(&root.join(folder), &mut found);
    }
    assert!(found.len() > 700, "{} files", found.len());
    let long: Vec<String> = found
        .iter()
        .filter_map(|path| {
            let text = fs::read_to_string(path).expect("text");
            let lines = text.lines().count();
            // Nobody reads what `make types` writes.
            let made = text
                .lines()
                .take(3)
                .any(|line| line.contains("`make types`"));
            (lines > MOST_LINES && !made).then(|| format!("{}: {lines}", path.display()))
        })
        .collect();
    assert_eq!(long, Vec::<String>::new());
}
