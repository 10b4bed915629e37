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

#[test]
fn nothing_is_written_into_the_folder_of_the_data_nor_over_a_file_of_it() {
    let dir = folder();
    let (job, _) = filled(dir.path());
    let at = |name: &str| dir.path().join(name);
    std::os::unix::fs::symlink("data", at("link")).expect("linked");
    std::os::unix::fs::symlink("data/swarfbook.db", at("db.pdf")).expect("linked");
    std::os::unix::fs::symlink("data/not-yet.html", at("new.html")).expect("linked");
    fs::hard_link(at("data/swarfbook.db"), at("hard.html")).expect("linked");
    let before = fs::read(at("data/swarfbook.db")).expect("reads");
    for args in [
        &["export", "--data", "data", "--out", "data/swarfbook.db"] as &[&str],
        &["export", "--data", "data", "--out", "data/photos/all.zip"],
        &["export", "--data", "link", "--out", "data/all.zip"],
        &["export", "--data", "data", "--out", "link/all.zip"],
        &[
            "export",
            "--data",
            "data",
            "--out",
            "./data/../data/all.zip",
        ],
        &["export", "--data", "data", "--out", "db.pdf"],
        &["export", "--data", "none", "--out", "none/all.zip"],
        &["lessons", "export", "data/all.zip", "--data", "data"],
        &["report", &job, "--data", "data", "--out", "data/a.html"],
        &["report", &job, "--data", "data", "--out", "db.pdf"],
        &["report", &job, "--data", "data", "--out", "new.html"],
        &["report", &job, "--data", "data", "--out", "hard.html"],
        &["card", "--out", "data/card.pdf"],
        &["card", "--out", "db.pdf"],
        &["verifier", "--out", "link/swarfbook.head"],
        &["backup", "data/bk", "--data", "data"],
        &["backup", "link/bk", "--data", "data"],
    ] {
        let refused = run_in(dir.path(), args);
        let said = said(&refused);
        assert_eq!(refused.status.code(), Some(1), "{args:?}: {said}");
        assert!(said.contains("folder"), "{args:?}: {said}");
        let now = fs::read(at("data/swarfbook.db")).expect("reads");
        assert!(now == before, "{args:?} wrote over the database");
    }
    for name in ["data/all.zip", "data/not-yet.html", "none", "data/bk"] {
        assert!(!at(name).exists(), "{name} was made");
    }
    let inside = at("data");
    for args in [
        &["backup", "bk", "--data", "."] as &[&str],
        &["export", "--data", ".", "--out", "all.zip"],
        &["card", "--out", "card.pdf"],
    ] {
        let refused = run_in(&inside, args);
        assert_eq!(
            refused.status.code(),
            Some(1),
            "{args:?}: {}",
            said(&refused)
        );
    }
    let beside = run_in(
        dir.path(),
        &["export", "--data", "data", "--out", "all.zip"],
    );
    assert!(beside.status.success(), "{}", said(&beside));
}

#[test]
fn a_photo_that_was_here_and_is_gone_is_called_missing_and_ends_with_3() {
    let dir = folder();
    let (_, photo) = filled(dir.path());
    let file = |of: &str| {
        dir.path()
            .join(of)
            .join("photos")
            .join(&photo[..2])
            .join(&photo)
    };
    let missing = format!("missing, was here before: photo {photo}");
    let told = |args: &[&str], code: i32| {
        let done = run_in(dir.path(), args);
        let said = said(&done);
        assert!(said.contains(&missing), "{args:?}: {said}");
        assert!(!said.contains("not on this device yet"), "{args:?}: {said}");
        assert_eq!(done.status.code(), Some(code), "{args:?}: {said}");
    };
    let whole = run_in(dir.path(), &["backup", "bk", "--data", "data"]);
    assert!(whole.status.success(), "{}", said(&whole));
    fs::remove_file(file("bk")).expect("removed");
    told(&["restore", "bk", "--data", "again"], 3);
    // It is a device of its own, and still knows that the one before it took the photo.
    told(&["export", "--data", "again", "--out", "again.zip"], 3);
    fs::remove_file(file("data")).expect("removed");
    told(&["export", "--data", "data", "--out", "all.zip"], 3);
    told(&["backup", "bk", "--data", "data"], 3);
    // The list itself is whole.
    let jobs = run_in(dir.path(), &["jobs", "--data", "data"]);
    assert!(jobs.status.success());
    assert!(said(&jobs).contains("were here before and are missing: 1"));
    // To whom it never came, it is on its way.
    let new = run_in(dir.path(), &["import", "all.zip", "--data", "new"]);
    assert!(new.status.success(), "{}", said(&new));
    let export = run_in(dir.path(), &["export", "--data", "new", "--out", "new.zip"]);
    assert!(export.status.success(), "{}", said(&export));
    assert!(said(&export).contains("not on this device yet: 1"));
}

/// It is of no use to do again what can't work.
#[test]
fn a_database_of_which_nothing_can_be_read_sends_nobody_round_in_circles() {
    let dir = folder();
    filled(dir.path());
    let file = dir.path().join("data/swarfbook.db");
    let bytes: Vec<u8> = (0..20_000_u32).map(|n| (n * n % 251) as u8).collect();
    fs::write(&file, &bytes).expect("written");
    let _ = fs::remove_file(dir.path().join("data/swarfbook.db-wal"));
    for _ in 0..2 {
        let refused = run_in(dir.path(), &["jobs", "--data", "data"]);
        let said = said(&refused);
        assert_eq!(refused.status.code(), Some(1), "{said}");
        assert!(!said.contains("do it again"), "{said}");
        assert!(said.contains("bring back a backup"), "{said}");
        assert!(fs::read(&file).expect("reads") == bytes, "left as it is");
    }
}
