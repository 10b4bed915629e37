//! The TypeScript of the door's types, kept in `ui/src/door/types`.
//! `UPDATE=1 cargo test -p swarfbook-app --test door_types` writes it anew.

#![allow(clippy::expect_used)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use swarfbook_app::command::Command;
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use ts_rs::{Config, TS};

fn generate(into: &Path) {
    let config = Config::default().with_out_dir(into);
    Command::export_all(&config).expect("commands");
    Reply::export_all(&config).expect("replies");
    Problem::export_all(&config).expect("problem");
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
