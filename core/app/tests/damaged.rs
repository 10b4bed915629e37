//! What a disk has damaged is neither shown nor counted nor put into a report as if it were
//! whole; the report names it; and adding the genuine file again mends it.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::fs;
use std::path::{Path, PathBuf};

use chrono::{DateTime, FixedOffset};
use swarfbook_app::App;
use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{Fact, LeaveOut, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
use swarfbook_store::NewEntry;

const PHOTO: &[u8] = include_bytes!("../demo/pan-01.jpg");

struct Standing;

impl Clock for Standing {
    fn now(&self) -> DateTime<FixedOffset> {
        DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
    }
}

struct Taken {
    dir: PathBuf,
    app: App,
    job: JobId,
    entry: EntryId,
    photo: Sha256Hex,
}

fn taken(dir: &Path) -> Taken {
    let app = App::open_with(dir, Box::new(Standing)).expect("opens");
    let Ok(Reply::Job { job }) = app.call(Command::OpenJob { procedure: None }) else {
        panic!("no job")
    };
    let photo = app.put_photo(PHOTO).expect("kept");
    let fact = Box::new(Fact::PhotoTaken {
        step: "pan-photo".into(),
        photo,
        subject: PhotoSubject::Pan,
    });
    let written = app.call(Command::Write {
        job: job.id,
        fact,
        sure: true,
    });
    let Ok(Reply::Written { entry, .. }) = written else {
        panic!("{written:?}")
    };
    Taken {
        dir: dir.to_owned(),
        job: job.id,
        entry,
        photo,
        app,
    }
}

impl Taken {
    /// A bit in the middle of the picture: it is decoded as before, and shows something else.
    fn flip(&self) {
        let file = swarfbook_store::photo_path(&self.dir, self.photo);
        let mut bytes = fs::read(&file).expect("reads");
        let middle = bytes.len() / 2;
        bytes[middle] ^= 1;
        fs::write(&file, bytes).expect("written");
    }

    fn preview(&self) -> String {
        let asked = Command::PreviewReport {
            job: self.job,
            leave_out: LeaveOut::default(),
            language: None,
        };
        match self.app.call(asked) {
            Ok(Reply::Report { html, .. }) => html,
            other => panic!("{other:?}"),
        }
    }

    fn lines(&self) -> usize {
        self.app.store().entries(self.job).expect("reads").len()
    }
}

#[test]
fn a_damaged_photo_is_not_shown_and_not_counted() {
    let dir = tempfile::tempdir().expect("folder");
    let taken = taken(dir.path());
    let lines = taken.lines();
    taken.flip();
    let shown = taken.app.photo(taken.photo, Some(400));
    let why = shown.expect_err("not shown").to_string();
    assert!(why.contains("damaged") && why.contains("again"), "{why}");
    let counted = taken.app.call(Command::TakeCensus {
        job: taken.job,
        photo: taken.entry,
    });
    let why = counted.expect_err("not counted").to_string();
    assert!(why.contains("damaged"), "{why}");
    assert_eq!(taken.lines(), lines, "nothing was written");
}

#[test]
fn a_report_says_that_a_photo_is_damaged_and_shows_it_again_once_it_is_mended() {
    let dir = tempfile::tempdir().expect("folder");
    let taken = taken(dir.path());
    let whole = taken.preview();
    assert!(!whole.contains("Not in this file"));
    // The small copy that reports show is there, and whole.
    assert!(dir.path().join("copies").is_dir());
    taken.flip();
    let damaged = taken.preview();
    let named = "Not in this file: the photo of the pan of 2 March 2026, 08:00 (UTC+1)";
    assert!(damaged.contains(named), "{damaged}");
    assert!(damaged.contains("file is damaged on the device that made the report"));
    assert_eq!(taken.app.put_photo(PHOTO).expect("kept"), taken.photo);
    assert_eq!(taken.preview(), whole);
}

#[test]
fn a_report_never_shows_a_copy_that_is_not_as_it_was_made() {
    let dir = tempfile::tempdir().expect("folder");
    let taken = taken(dir.path());
    let whole = taken.preview();
    let name = taken.photo.to_string();
    let copies = dir.path().join("copies/report-2");
    let file = copies.join(&name[..2]).join(&name);
    let mut bytes = fs::read(&file).expect("a copy");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(&file, bytes).expect("written");
    assert_eq!(taken.preview(), whole, "it is made again from the photo");
}

/// A database that is too large to be read whole at each start.
#[test]
fn a_line_found_damaged_while_in_use_makes_the_store_read_only_with_all_others_saved() {
    let dir = tempfile::tempdir().expect("folder");
    let taken = taken(dir.path());
    let other = JobId(uuid::Uuid::from_u128(5));
    let noted = |n: usize, job| NewEntry {
        job,
        fact: Fact::Noted {
            step: "car".into(),
            topic: None,
            text: format!("note {n} of many. ") + &"long ".repeat(600),
            private: false,
        },
        now: Standing.now(),
    };
    let lines: Vec<NewEntry> = (0..3_000).map(|n| noted(n, other)).collect();
    taken.app.store().append(&lines).expect("written");
    let job = taken.job;
    let before = taken.lines();
    drop(taken);
    let file = dir.path().join("swarfbook.db");
    let mut bytes = fs::read(&file).expect("reads");
    assert!(bytes.len() > 8 * 1024 * 1024);
    let said = b"note 1500 of many";
    let at = bytes.windows(said.len()).position(|part| part == said);
    bytes[at.expect("is there")] = b'N';
    fs::write(&file, bytes).expect("written");

    let app = App::open_with(dir.path(), Box::new(Standing)).expect("opens");
    assert!(app.read_only().is_none(), "nobody has looked yet");
    let log = |job| app.call(Command::Log { job });
    let Ok(Reply::Log { lines, .. }) = log(job) else {
        panic!("the other job is whole")
    };
    assert_eq!(lines.len(), before);
    let why = log(other).expect_err("a line is not as it was written");
    assert!(why.what.contains("damaged"), "{why}");
    let Ok(Reply::Log { lines, .. }) = log(other) else {
        panic!("what can be saved")
    };
    assert_eq!(lines.len(), 2_999);
    let why = app.read_only().expect("says so").to_string();
    assert!(why.contains("line 1") && why.contains("export"), "{why}");
    let refused = app.call(Command::OpenJob { procedure: None });
    assert!(
        refused
            .expect_err("refused")
            .to_string()
            .contains("damaged")
    );
    drop(app);
    let app = App::open_with(dir.path(), Box::new(Standing)).expect("opens");
    assert!(app.read_only().is_some(), "and at the next start too");
}
