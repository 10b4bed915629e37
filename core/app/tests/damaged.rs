//! What a disk has damaged is neither shown nor counted nor put into a report as if it were
//! whole; the report names it; and adding the genuine file again mends it.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;

use std::fs;
use std::path::Path;

use bay::{Bay, Standing, noted};
use swarfbook_app::App;
use swarfbook_app::clock::Clock;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
use swarfbook_store::NewEntry;

const PHOTO: &[u8] = include_bytes!("../demo/pan-01.jpg");

struct Taken {
    bay: Bay,
    entry: EntryId,
    photo: Sha256Hex,
}

fn taken() -> Taken {
    let bay = Bay::with(opened);
    let photo = bay.app.put_photo(PHOTO).expect("kept");
    let entry = bay.write(Fact::PhotoTaken {
        step: "pan-photo".into(),
        photo,
        subject: PhotoSubject::Pan,
    });
    Taken { bay, entry, photo }
}

fn opened(dir: &Path) -> App {
    App::open_with(dir, Box::new(Standing)).expect("opens")
}

impl Taken {
    /// A bit in the middle of the picture: it is decoded as before, and shows something else.
    fn flip(&self) {
        let file = swarfbook_store::photo_path(self.bay.dir(), self.photo);
        let mut bytes = fs::read(&file).expect("reads");
        let middle = bytes.len() / 2;
        bytes[middle] ^= 1;
        fs::write(&file, bytes).expect("written");
    }

    fn lines(&self) -> usize {
        self.bay
            .app
            .store()
            .entries(self.bay.job)
            .expect("reads")
            .len()
    }
}

#[test]
fn a_damaged_photo_is_not_shown_and_not_counted() {
    let taken = taken();
    let lines = taken.lines();
    taken.flip();
    let shown = taken.bay.app.photo(taken.photo, Some(400));
    let why = shown.expect_err("not shown").to_string();
    assert!(why.contains("damaged") && why.contains("again"), "{why}");
    let counted = taken.bay.app.call(Command::TakeCensus {
        job: taken.bay.job,
        photo: taken.entry,
    });
    let why = counted.expect_err("not counted").to_string();
    assert!(why.contains("damaged"), "{why}");
    assert_eq!(taken.lines(), lines, "nothing was written");
}

#[test]
fn a_report_says_that_a_photo_is_damaged_and_shows_it_again_once_it_is_mended() {
    let taken = taken();
    let whole = taken.bay.preview();
    assert!(!whole.contains("Not in this file"));
    // The small copy that reports show is there, and whole.
    assert!(taken.bay.dir().join("copies").is_dir());
    taken.flip();
    let damaged = taken.bay.preview();
    let named = "Not in this file: the photo of the pan of 2 March 2026, 08:00 (UTC+1)";
    assert!(damaged.contains(named), "{damaged}");
    assert!(damaged.contains("file is damaged on the device that made the report"));
    assert_eq!(taken.bay.app.put_photo(PHOTO).expect("kept"), taken.photo);
    assert_eq!(taken.bay.preview(), whole);
}

#[test]
fn a_report_never_shows_a_copy_that_is_not_as_it_was_made() {
    let taken = taken();
    let whole = taken.bay.preview();
    let name = taken.photo.to_string();
    let copies = taken.bay.dir().join("copies/report-2");
    let file = copies.join(&name[..2]).join(&name);
    let mut bytes = fs::read(&file).expect("a copy");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(&file, bytes).expect("written");
    assert_eq!(
        taken.bay.preview(),
        whole,
        "it is made again from the photo"
    );
}

/// A database that is too large to be read whole at each start.
#[test]
fn a_line_found_damaged_while_in_use_makes_the_store_read_only_with_all_others_saved() {
    let taken = taken();
    let other = JobId(uuid::Uuid::from_u128(5));
    let line = |n: usize| NewEntry {
        job: other,
        fact: noted(&(format!("note {n} of many. ") + &"long ".repeat(600))),
        now: Standing.now(),
    };
    let lines: Vec<NewEntry> = (0..3_000).map(line).collect();
    taken.bay.app.store().append(&lines).expect("written");
    let before = taken.lines();
    let bay = taken.bay.again(|dir| {
        let file = dir.join("swarfbook.db");
        let mut bytes = fs::read(&file).expect("reads");
        assert!(bytes.len() > 8 * 1024 * 1024);
        let said = b"note 1500 of many";
        let at = bytes.windows(said.len()).position(|part| part == said);
        bytes[at.expect("is there")] = b'N';
        fs::write(&file, bytes).expect("written");
        opened(dir)
    });
    let app = &bay.app;
    assert!(app.read_only().is_none(), "nobody has looked yet");
    let log = |job| app.call(Command::Log { job });
    let Ok(Reply::Log { lines, .. }) = log(bay.job) else {
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
    let bay = bay.again(opened);
    assert!(bay.app.read_only().is_some(), "and at the next start too");
}
