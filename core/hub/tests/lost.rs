//! Bad luck with folders and files: bare names, outputs that would lie over the store itself,
//! photos that are gone. What the command line says then, and how it ends.
#![cfg(unix)]
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::fs;
use std::path::Path;
use std::process::Output;

use common::{Calls, picture, swarfbook};
use serde_json::json;
use tempfile::TempDir;

fn folder() -> TempDir {
    tempfile::tempdir().expect("folder")
}

/// Runs the program in a folder, as a person would who names what lies there.
fn run_in(dir: &Path, args: &[&str]) -> Output {
    let mut command = swarfbook();
    command.args(args).current_dir(dir);
    command.output().expect("runs")
}

fn said(output: &Output) -> String {
    let out = String::from_utf8_lossy(&output.stdout);
    format!("{out}{}", String::from_utf8_lossy(&output.stderr))
}

/// A store with a job that has a photo; the job, and the photo's name.
fn filled(dir: &Path) -> (String, String) {
    let data = dir.join("data");
    let mut calls = Calls::open(&data);
    let job = calls.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    fs::write(dir.join("taken.png"), picture()).expect("written");
    let kept = run_in(dir, &["photo", "taken.png", "--data", "data"]);
    let photo = said(&kept).trim().to_owned();
    let taken = calls.ask(&json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
        "step":"car","photo":photo,"subject":"other"}}));
    assert_eq!(taken["reply"], "written", "{taken}");
    calls.close();
    (job.as_str().expect("an id").to_owned(), photo)
}

#[test]
fn a_bare_name_of_a_file_or_folder_does_for_every_command() {
    let dir = folder();
    let (job, _) = filled(dir.path());
    for args in [
        &["backup", "BkA", "--data", "data"] as &[&str],
        &["backup", "BkA", "--data", "data"],
        &["restore", "BkA", "--data", "again"],
        &["jobs", "--data", "again"],
        &["export", "--data", "data", "--out", "all.zip"],
        &["import", "all.zip", "--data", "new"],
        &["report", &job, "--data", "data", "--out", "report.html"],
        &["verify", "report.html", "--data", "data"],
        &["card", "--out", "card.pdf"],
        &["lessons", "export", "lessons.zip", "--data", "data"],
    ] {
        let done = run_in(dir.path(), args);
        assert!(done.status.success(), "{args:?}: {}", said(&done));
    }
}

#[test]
fn a_path_is_shown_as_it_was_typed_also_where_a_sentence_begins() {
    let dir = folder();
    filled(dir.path());
    fs::write(dir.path().join("bk"), "no folder").expect("written");
    for args in [
        &["backup", "bk", "--data", "data"] as &[&str],
        &["export", "--data", "data", "--out", "bk/all.zip"],
        &["import", "bk/none.zip", "--data", "data"],
        &["lessons", "export", "bk/all.zip", "--data", "data"],
    ] {
        let refused = run_in(dir.path(), args);
        assert!(!refused.status.success());
        let said = said(&refused);
        assert!(said.contains("bk") && !said.contains("Bk"), "{said}");
    }
}
