//! A folder that can't be written, or has no room: what is there is still shown and handed
//! out, and what can't be done is said. And a backup of a running hub, brought back.
#![cfg(target_os = "linux")]
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod common;

use std::collections::BTreeMap;
use std::fs;
use std::io::{BufRead, BufReader};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use common::{Calls, Running, picture, signal, swarfbook};
use serde_json::{Value, json};
use tempfile::TempDir;

/// Nobody's account, which every Debian has: root may write where it may not.
const NOBODY: u32 = 65_534;

fn filled(dir: &Path) -> String {
    let mut calls = Calls::open(dir);
    let job = calls.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    calls.ask(&note(&job, "seen before"));
    calls.close();
    job.as_str().expect("an id").to_owned()
}

fn note(job: &Value, text: &str) -> Value {
    json!({"do":"write","job":job,"fact":{"fact":"noted","step":"car","topic":null,"text":text}})
}

/// Every file below a folder with its bytes.
fn files(dir: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    for file in fs::read_dir(dir).expect("reads") {
        let path = file.expect("a file").path();
        if path.is_dir() {
            found.extend(files(&path));
        } else {
            found.insert(path.clone(), fs::read(&path).expect("reads"));
        }
    }
    found
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// What has to work on a store that can't be written, whatever the reason.
fn is_of_use_and_says_so(dir: &Path, elsewhere: &Path, job: &str, with: &dyn Fn(&mut Command)) {
    let before = files(dir);
    let run = |args: &[&str]| -> Output {
        let mut command = swarfbook();
        with(command.args(args).arg("--data").arg(dir));
        command.output().expect("runs")
    };
    let jobs = run(&["jobs"]);
    let said = text(&jobs.stderr);
    assert!(jobs.status.success(), "{said}");
    assert!(
        text(&jobs.stdout).starts_with(job),
        "{}",
        text(&jobs.stdout)
    );
    assert!(said.contains("Nothing can be written"), "{said}");

    let file = elsewhere.join("all.zip");
    let exported = run(&["export", "--out", file.to_str().expect("a path")]);
    assert!(exported.status.success(), "{}", text(&exported.stderr));
    let new = tempfile::tempdir().expect("folder");
    let backup = elsewhere.join("backup");
    let backed_up = run(&["backup", backup.to_str().expect("a path")]);
    assert!(backed_up.status.success(), "{}", text(&backed_up.stderr));
    is_restored(&backup, &new.path().join("restored"), job);
    let imported = swarfbook()
        .arg("import")
        .arg(&file)
        .arg("--data")
        .arg(new.path().join("imported"))
        .output()
        .expect("runs");
    assert!(imported.status.success(), "{}", text(&imported.stderr));
    let inside = dir.join("all.zip");
    let refused = run(&["export", "--out", inside.to_str().expect("a path")]);
    assert!(!refused.status.success());
    assert!(!text(&refused.stderr).is_empty());

    let mut command = swarfbook();
    with(command.args(["call", "--data"]).arg(dir));
    let mut call = command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("starts");
    {
        use std::io::Write;
        let mut to = call.stdin.take().expect("piped");
        writeln!(to, "{}", json!({"do":"start"})).expect("sent");
        writeln!(to, "{}", note(&json!(job), "not to be written")).expect("sent");
        writeln!(to, "{}", json!({"do":"log","job":job})).expect("sent");
    }
    let answers: Vec<Value> = BufReader::new(call.stdout.take().expect("piped"))
        .lines()
        .map(|line| serde_json::from_str(&line.expect("a line")).expect("JSON"))
        .collect();
    call.wait().expect("ends");
    let warning = answers[0]["start"]["storage_warning"].as_str();
    assert!(warning.is_some_and(|words| words.contains("Nothing can be written")));
    assert_eq!(answers[1]["problem"]["kind"], "storage", "{}", answers[1]);
    assert!(answers[2].to_string().contains("seen before"));
    assert!(!answers[2].to_string().contains("not to be written"));

    serves(dir, with);
    assert_eq!(files(dir), before, "nothing was written there");
}

/// A backup makes a store that has this job.
fn is_restored(backup: &Path, to: &Path, job: &str) {
    for (verb, from) in [("restore", Some(backup)), ("jobs", None)] {
        let done = swarfbook()
            .arg(verb)
            .args(from)
            .arg("--data")
            .arg(to)
            .output()
            .expect("runs");
        assert!(done.status.success(), "{verb}: {}", text(&done.stderr));
        assert!(verb == "restore" || text(&done.stdout).starts_with(job));
    }
}

/// A hub starts on this folder, says where it is, and ends well when it is asked to. `with` says how it is run.
fn serves(dir: &Path, with: &dyn Fn(&mut Command)) {
    let mut command = swarfbook();
    with(
        command
            .args(["serve", "--listen", "127.0.0.1:0", "--data"])
            .arg(dir),
    );
    let mut hub = command
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("starts");
    let mut line = String::new();
    BufReader::new(hub.stdout.take().expect("piped"))
        .read_line(&mut line)
        .expect("reads");
    assert!(line.starts_with("http://127.0.0.1:"), "{line:?}");
    signal(hub.id(), "-TERM");
    assert!(hub.wait().expect("ends").success());
}

fn open_to_all(dir: &Path) {
    fs::set_permissions(dir, fs::Permissions::from_mode(0o777)).expect("opened");
}

/// Takes away every right to write, and gives every right to read.
fn write_protect(dir: &Path) {
    for path in files(dir).into_keys() {
        fs::set_permissions(&path, fs::Permissions::from_mode(0o444)).expect("set");
    }
    for path in [dir.to_owned(), dir.join("photos")] {
        fs::set_permissions(&path, fs::Permissions::from_mode(0o555)).expect("set");
    }
}

fn as_nobody(dir: &Path) -> impl Fn(&mut Command) + use<> {
    let root = fs::metadata(dir).expect("is there").uid() == 0;
    move |command| {
        if root {
            command.uid(NOBODY).gid(NOBODY);
        }
    }
}

#[test]
fn a_read_only_folder_is_read_exported_and_served() {
    let (dir, elsewhere) = (folder(), folder());
    let job = filled(dir.path());
    open_to_all(elsewhere.path());
    write_protect(dir.path());
    is_of_use_and_says_so(dir.path(), elsewhere.path(), &job, &as_nobody(dir.path()));
}

/// After a kill the last lines are in the write-ahead log alone.
#[test]
fn a_read_only_folder_with_lines_in_its_log_shows_these_too() {
    let (from, dir, elsewhere) = (folder(), folder(), folder());
    let mut calls = Calls::open(from.path());
    let job = calls.ask(&json!({"do":"open_job"}))["job"]["id"].clone();
    calls.ask(&note(&job, "seen before"));
    fs::create_dir(dir.path().join("photos")).expect("made");
    // Without its index (-shm), as a copy by hand has it.
    for name in ["swarfbook.db", "swarfbook.db-wal", "swarfbook.head"] {
        fs::copy(from.path().join(name), dir.path().join(name)).expect("copied");
    }
    calls.close();
    open_to_all(elsewhere.path());
    write_protect(dir.path());
    let job = job.as_str().expect("an id");
    is_of_use_and_says_so(dir.path(), elsewhere.path(), job, &as_nobody(dir.path()));
}

#[test]
fn a_full_disk_is_read_exported_to_another_and_served() {
    let (disk, elsewhere) = (folder(), folder());
    let dir = disk.path().join("data");
    let job = filled(&dir);
    // More than is gathered before it is written.
    let mut random = 1_u32;
    let pixels = image::RgbImage::from_fn(200, 200, |_, _| {
        random = random.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        image::Rgb([(random >> 24) as u8; 3])
    });
    let file = elsewhere.path().join("noise.png");
    pixels.save(&file).expect("written");
    let kept = swarfbook()
        .arg("photo")
        .arg(&file)
        .arg("--data")
        .arg(&dir)
        .output()
        .expect("runs");
    let photo = text(&kept.stdout).trim().to_owned();
    let mut calls = Calls::open(&dir);
    let taken = calls.ask(&json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
        "step":"car","photo":photo,"subject":"other"}}));
    assert_eq!(taken["reply"], "written", "{taken}");
    calls.close();
    let shim = elsewhere.path().join("nospace.so");
    let built = Command::new("cc")
        .args(["-shared", "-fPIC", "-o"])
        .arg(&shim)
        .arg(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/full/nospace.c"))
        .arg("-ldl")
        .status()
        .expect("a C compiler is there: SQLite is built by it");
    assert!(built.success());
    let disk = disk.path().canonicalize().expect("a path");
    let full = disk.join("data");
    // What is opened makes files of no length, which take no room; they are the system's to keep.
    let with = |command: &mut Command| {
        command.env("LD_PRELOAD", &shim).env("FULL_DIR", &disk);
    };
    let run = |args: &[&str]| {
        let mut command = swarfbook();
        with(command.args(args).arg("--data").arg(&full));
        command.output().expect("runs")
    };
    let jobs = run(&["jobs"]);
    let said = text(&jobs.stderr);
    assert!(jobs.status.success(), "{said}");
    assert!(text(&jobs.stdout).starts_with(&job));
    assert!(said.contains("Nothing can be written"), "{said}");
    let file = elsewhere.path().join("all.zip");
    let exported = run(&["export", "--out", file.to_str().expect("a path")]);
    assert!(exported.status.success(), "{}", text(&exported.stderr));
    let backup = elsewhere.path().join("backup");
    let backed_up = run(&["backup", backup.to_str().expect("a path")]);
    assert!(backed_up.status.success(), "{}", text(&backed_up.stderr));
    is_restored(&backup, &elsewhere.path().join("restored"), &job);
    let inside = disk.join("all.zip");
    let refused = run(&["export", "--out", inside.to_str().expect("a path")]);
    assert!(text(&refused.stderr).contains("storage is full"));
    // What packs the file has no word of its own.
    let words = text(&refused.stderr);
    assert!(!words.contains("ZipWriter"), "{words}");
    assert!(!refused.status.success() && !inside.exists());
    assert!(!disk.join("all.zip.half").exists(), "nothing half is left");
    serves(&full, &with);
    // With room again all is as before, and it can be written.
    let mut calls = Calls::open(&full);
    let written = calls.ask(&note(&json!(job), "on"));
    assert_eq!(written["reply"], "written", "{written}");
    let log = calls.ask(&json!({"do":"log","job":job})).to_string();
    assert!(log.contains("seen before"));
    calls.close();
}

fn folder() -> TempDir {
    tempfile::tempdir().expect("folder")
}

#[test]
fn a_report_of_before_verifies_against_a_backup_that_was_made_of_a_running_hub() {
    let (dir, to, again) = (folder(), folder(), folder());
    let job = filled(dir.path());
    let mut calls = Calls::open(dir.path());
    let made = swarfbook()
        .arg("photo")
        .arg(picture_in(to.path()))
        .arg("--data")
        .arg(dir.path())
        .output()
        .expect("runs");
    let photo = text(&made.stdout).trim().to_owned();
    let taken = calls.ask(&json!({"do":"write","job":job,"fact":{"fact":"photo_taken",
        "step":"car","photo":photo,"subject":"other"}}));
    assert_eq!(taken["reply"], "written", "{taken}");
    calls.close();
    let files = ["report.html", "report.pdf"].map(|name| to.path().join(name));
    for file in &files {
        let report = swarfbook()
            .args(["report", &job, "--out"])
            .arg(file)
            .arg("--data")
            .arg(dir.path())
            .output()
            .expect("runs");
        assert!(report.status.success(), "{}", text(&report.stderr));
    }
    let hub = Running::start(dir.path(), &[]);
    let backup = to.path().join("backup");
    let backed_up = swarfbook()
        .arg("backup")
        .arg(&backup)
        .arg("--data")
        .arg(dir.path())
        .output()
        .expect("runs");
    assert!(backed_up.status.success(), "{}", text(&backed_up.stderr));
    assert!(text(&backed_up.stdout).contains("photos 1 (1 new)"));
    // The hub goes on, and the shop burns down.
    assert_eq!(hub.call(&json!({"do":"settings"})).status, 200);
    hub.kill();
    drop(dir);

    let data = again.path().join("data");
    let restored = swarfbook()
        .arg("restore")
        .arg(&backup)
        .arg("--data")
        .arg(&data)
        .output()
        .expect("runs");
    assert!(restored.status.success(), "{}", text(&restored.stderr));
    for file in &files {
        let verified = swarfbook()
            .arg("verify")
            .arg(file)
            .arg("--data")
            .arg(&data)
            .output()
            .expect("runs");
        let said = text(&verified.stdout) + &text(&verified.stderr);
        assert!(verified.status.success(), "{said}");
        assert!(
            said.contains("the lines that it was made from are in this log"),
            "{said}"
        );
    }
    // Modes: a backup holds keys and names.
    for path in [backup.join("swarfbook.db"), data.join("swarfbook.db")] {
        let mode = fs::metadata(&path).expect("is there").permissions().mode();
        assert_eq!(mode & 0o077, 0, "{}", path.display());
    }
    let mut calls = Calls::open(&data);
    let written = calls.ask(&note(&json!(job), "on"));
    assert_eq!(written["reply"], "written", "{written}");
    calls.close();
}

fn picture_in(dir: &Path) -> PathBuf {
    let file = dir.join("taken.png");
    fs::write(&file, picture()).expect("written");
    file
}
