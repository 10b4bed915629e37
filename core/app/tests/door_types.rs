//! The TypeScript of the door's types, kept in `ui/src/door/types`.
//! `UPDATE=1 cargo test -p swarfbook-app --test door_types` writes it anew.

#![allow(clippy::expect_used)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde::Serialize;
use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::{ANSWERS, Reply};
use swarfbook_job::class_table::ClassRow;
use swarfbook_job::fact::{ComponentKind, ComponentRow, ReadingKind, ReadingRow};
use swarfbook_words::{Language, in_language};
use ts_rs::{Config, TS};

fn generate(into: &Path) {
    let config = Config::default().with_out_dir(into);
    Command::export_all(&config).expect("commands");
    Reply::export_all(&config).expect("replies");
    Problem::export_all(&config).expect("problem");
    ClassRow::export_all(&config).expect("class row");
    ReadingRow::export_all(&config).expect("reading row");
    ComponentRow::export_all(&config).expect("component row");
    let write = |file: &str, text: String| fs::write(into.join(file), text).expect("table");
    write("Answers.ts", answers());
    write(
        "classTable.ts",
        table("classTable", "ClassRow", "class_table.rs", ClassRow::all),
    );
    write(
        "readingTable.ts",
        table("readingTable", "ReadingRow", "fact/reading_kind.rs", || {
            ReadingKind::ALL.map(ReadingKind::row)
        }),
    );
    write(
        "componentTable.ts",
        table(
            "componentTable",
            "ComponentRow",
            "fact/component_kind.rs",
            || ComponentKind::ALL.map(ComponentKind::row),
        ),
    );
}

/// The reply that each command gets, by their names on the wire.
fn answers() -> String {
    let rows = ANSWERS.iter().map(|(command, replies)| {
        let replies: Vec<_> = replies
            .iter()
            .map(|r| format!("\"{}\"", on_the_wire(r)))
            .collect();
        format!("  {}: {};\n", on_the_wire(command), replies.join(" | "))
    });
    format!(
        "// Which reply each command gets (`core/app/src/reply.rs`), written by `make types`. Do \
         not edit this file manually.\n\n\
         export interface Answers {{\n{}}}\n",
        rows.collect::<String>()
    )
}

/// "ReadVin" is "read_vin" there.
fn on_the_wire(name: &str) -> String {
    let mut wire = String::new();
    for letter in name.chars() {
        if letter.is_ascii_uppercase() && !wire.is_empty() {
            wire.push('_');
        }
        wire.push(letter.to_ascii_lowercase());
    }
    wire
}

/// A table of the core as data of the screens: its rows in every language.
fn table<R: Serialize>(name: &str, row: &str, from: &str, rows: impl Fn() -> R) -> String {
    let rows: BTreeMap<Language, R> = Language::ALL
        .into_iter()
        .map(|language| (language, in_language(language, &rows)))
        .collect();
    let rows = serde_json::to_string_pretty(&rows).expect("JSON");
    format!(
        "// A table of the core (`core/job/src/{from}`), written by `make types`. Do not edit this \
         file manually.\n\
         import type {{ Language }} from \"./Language\";\n\
         import type {{ {row} }} from \"./{row}\";\n\n\
         export const {name}: Record<Language, readonly {row}[]> = {rows};\n"
    )
}

fn files(dir: &Path) -> BTreeMap<PathBuf, String> {
    let mut found = BTreeMap::new();
    for file in fs::read_dir(dir).into_iter().flatten().flatten() {
        let path = file.path();
        if path.is_dir() {
            for (name, text) in files(&path) {
                found.insert(Path::new(&file.file_name()).join(name), text);
            }
        } else {
            let text = fs::read_to_string(&path).expect("text");
            found.insert(file.file_name().into(), text);
        }
    }
    found
}

#[test]
fn the_typescript_of_the_door_is_current() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../ui/src/door/types");
    if std::env::var_os("UPDATE").is_some() {
        if kept.exists() {
            fs::remove_dir_all(&kept).expect("clear");
        }
        generate(&kept);
    }
    let fresh = tempfile::tempdir().expect("folder");
    generate(fresh.path());
    let (kept, fresh) = (files(&kept), files(fresh.path()));
    assert!(!fresh.is_empty());
    for (name, text) in &fresh {
        assert_eq!(
            kept.get(name),
            Some(text),
            "{} is not current: run `make types`",
            name.display()
        );
    }
    assert_eq!(kept.len(), fresh.len(), "a type is gone: run `make types`");
}
