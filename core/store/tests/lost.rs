//! A database that came back shorter, empty, without its log or with flipped bits: noticed, and
//! read as far as it goes. Never a shop that begins anew without a word.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::fs;
use std::io::Cursor;
use std::path::Path;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{CustomerId, DeviceId, JobId};
use swarfbook_store::{NewEntry, Store, StoreError};
use tempfile::TempDir;
use uuid::Uuid;

fn at(minute: u32) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
        + chrono::Duration::minutes(i64::from(minute))
}

fn folder() -> TempDir {
    tempfile::tempdir().expect("folder")
}

fn write(store: &Store, lines: std::ops::Range<u32>) {
    for line in lines {
        // Every tenth is longer than a page of the database.
        let words = if line % 10 == 9 { 2_000 } else { 20 };
        let fact = Fact::Noted {
            step: "look".into(),
            topic: None,
            text: format!("line {line} ") + &"word ".repeat(words),
            private: false,
        };
        let line = NewEntry {
            job: JobId(Uuid::from_u128(u128::from(line % 4))),
            fact,
            now: at(line),
        };
        store.append(&[line]).expect("written");
    }
}

/// A store of so many lines, with a customer and a setting.
fn shop(dir: &Path, lines: u32) -> (Store, CustomerId) {
    let store = Store::open(dir).expect("opens");
    let customer = CustomerId(Uuid::from_u128(9));
    store
        .save_customer(customer, "Ada Invented", "none", at(0))
        .expect("kept");
    store.set("shown", &"bay").expect("kept");
    write(&store, 0..lines);
    (store, customer)
}

fn copy(from: &Path, to: &Path, names: &[&str]) {
    for name in names {
        fs::copy(from.join(name), to.join(name)).expect("copied");
    }
}

/// All lines by device and number, as bytes.
fn lines(store: &Store) -> BTreeMap<(DeviceId, u64), String> {
    let mut all = BTreeMap::new();
    for device in store.heads().expect("reads").into_keys() {
        for line in store.entries_after(device, 0, usize::MAX).expect("reads") {
            all.insert((device, line.entry.seq), line.bytes);
        }
    }
    all
}

fn refuses_to_write(store: &Store) {
    let line = NewEntry {
        job: JobId(Uuid::from_u128(1)),
        fact: Fact::StepTicked { step: "a".into() },
        now: at(1),
    };
    let refused = store.append(&[line]);
    assert!(matches!(refused, Err(StoreError::ReadOnly(_))));
    assert!(store.set("x", &1).is_err());
    let draft = store.keep_draft(JobId(Uuid::from_u128(1)), "note", "half");
    assert!(draft.is_err());
}

const ALL: [&str; 3] = ["swarfbook.db", "swarfbook.db-wal", "swarfbook.head"];

#[test]
fn an_empty_file_or_none_in_place_of_a_store_is_no_new_shop() {
    let dir = folder();
    let store = Store::open(dir.path()).expect("opens");
    write(&store, 0..3);
    drop(store);
    let file = dir.path().join("swarfbook.db");
    for there in [true, false] {
        if there {
            fs::write(&file, b"").expect("emptied");
        } else {
            fs::remove_file(&file).expect("removed");
        }
        assert!(matches!(Store::open(dir.path()), Err(StoreError::Gone(_))));
        assert_eq!(file.exists(), there, "left as it is");
    }
    // Photos without a log, of a store from before heads were kept.
    fs::remove_file(dir.path().join("swarfbook.head")).expect("removed");
    fs::create_dir(dir.path().join("photos/ab")).expect("made");
    assert!(matches!(Store::open(dir.path()), Err(StoreError::Gone(_))));
}

#[test]
fn a_database_without_its_log_is_noticed_and_read_as_far_as_it_goes() {
    let dir = folder();
    let store = Store::open(dir.path()).expect("opens");
    write(&store, 0..5);
    drop(store);
    let store = Store::open(dir.path()).expect("opens");
    assert!(store.read_only().is_none());
    write(&store, 5..8);
    for names in [&ALL[..1], &["swarfbook.db", "swarfbook.head"]] {
        let to = folder();
        copy(dir.path(), to.path(), names);
        let found = Store::open(to.path()).expect("opens to read");
        let why = found.read_only().expect("says so").clone();
        assert!(why.damaged, "{}", why.words);
        assert_eq!(why.lost, if names.len() == 2 { 3 } else { 0 });
        assert_eq!(lines(&found).len(), 5);
        refuses_to_write(&found);
    }
    // With its log beside it, it is whole.
    let to = folder();
    copy(dir.path(), to.path(), &ALL);
    let found = Store::open(to.path()).expect("opens");
    assert!(found.read_only().is_none());
    assert_eq!(lines(&found), lines(&store));
}

/// SQLite reads a write-ahead log up to the first bad frame and throws the rest away when it
/// closes.
#[test]
fn of_a_log_with_a_bad_page_all_other_lines_are_saved_and_the_log_is_left_as_it_is() {
    let dir = folder();
    let store = Store::open(dir.path()).expect("opens");
    write(&store, 0..5);
    drop(store);
    let store = Store::open(dir.path()).expect("opens");
    write(&store, 5..45);
    let whole = lines(&store);
    let wal = fs::read(dir.path().join("swarfbook.db-wal")).expect("a log");
    let frame = 24 + 4096;
    let frames = (wal.len() - 32) / frame;
    assert!(frames > 100, "{frames}");
    for broken in (0..frames).step_by(17) {
        let to = folder();
        copy(dir.path(), to.path(), &ALL);
        let mut bytes = wal.clone();
        let page = 32 + broken * frame + 24;
        for byte in &mut bytes[page + 100..page + 200] {
            *byte ^= 0x5a;
        }
        let file = to.path().join("swarfbook.db-wal");
        fs::write(&file, &bytes).expect("written");
        let found = Store::open(to.path()).expect("opens to read");
        assert!(found.read_only().is_some(), "frame {broken}");
        let saved = lines(&found);
        assert!(saved.iter().all(|(key, line)| whole[key] == *line));
        // At most what one page holds of lines that stand nowhere else.
        assert!(
            saved.len() + 1 >= whole.len(),
            "frame {broken}: {}",
            saved.len()
        );
        drop(found);
        assert_eq!(fs::read(&file).expect("still there"), bytes);
    }
}

#[test]
fn a_database_with_flipped_bits_is_read_as_far_as_it_goes_and_says_so() {
    let dir = folder();
    let (store, _) = shop(dir.path(), 60);
    let (device, whole) = (store.device(), lines(&store));
    drop(store);
    let good = fs::read(dir.path().join("swarfbook.db")).expect("reads");
    // A fixed sequence (Knuth's MMIX multiplier), so that a failing place is found again.
    let mut drawn = 1_u64;
    let mut draw = || {
        drawn = drawn
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (drawn >> 33) as usize
    };
    let (mut held, mut fewest) = (0, whole.len());
    for round in 0..150 {
        let to = folder();
        copy(dir.path(), to.path(), &["swarfbook.head"]);
        let mut bytes = good.clone();
        // The first page too, which says what all the others are.
        let at = draw() % if round % 10 == 0 { 4096 } else { bytes.len() };
        bytes[at] ^= 1 << (draw() % 8);
        fs::write(to.path().join("swarfbook.db"), &bytes).expect("written");
        let found = match Store::open(to.path()) {
            Ok(found) => found,
            // The number of the form is in these four bytes.
            Err(StoreError::Newer { .. }) if (60..64).contains(&at) => continue,
            Err(why) => panic!("byte {at}: {why}"),
        };
        let saved = lines(&found);
        assert!(
            saved.iter().all(|(key, line)| whole[key] == *line),
            "byte {at}"
        );
        if found.read_only().is_none() {
            assert_eq!(saved, whole, "byte {at} went unseen");
            continue;
        }
        held += 1;
        fewest = fewest.min(saved.len());
        assert_eq!(found.device(), device, "byte {at}");
    }
    assert!(held > 50, "{held} of 150 were noticed");
    // One page holds at most seven of these lines, or a piece of one.
    assert!(fewest + 7 >= whole.len(), "{fewest} of {}", whole.len());
}

#[test]
fn what_was_saved_goes_into_a_new_folder_by_an_export() {
    let dir = folder();
    let (store, customer) = shop(dir.path(), 30);
    let whole = lines(&store);
    drop(store);
    // The page that says where all tables are, overwritten.
    let file = dir.path().join("swarfbook.db");
    let mut bytes = fs::read(&file).expect("reads");
    bytes[..4096].fill(0x7e);
    fs::write(&file, bytes).expect("written");
    let found = Store::open(dir.path()).expect("opens to read");
    assert!(found.read_only().is_some_and(|why| why.lost == 0));
    assert_eq!(lines(&found), whole);
    let mut out = Cursor::new(Vec::new());
    let holds = found.export(&mut out, &["shown"]).expect("exports");
    assert_eq!((holds.entries, holds.not_whole), (30, Default::default()));

    let to = folder();
    let ours = Store::open(to.path()).expect("opens");
    ours.import_export(out, 0, &["shown"], |_| None)
        .expect("comes in");
    assert_eq!(lines(&ours), whole);
    let known = ours.customer(customer).expect("reads").expect("is here");
    assert_eq!(known.name, "Ada Invented");
    assert_eq!(ours.setting("shown").ok(), Some(Some("bay".to_owned())));
    assert!(ours.read_only().is_none(), "and can be written");
}

/// What a store costs that is noticed by nothing: an older copy of all its files together.
#[test]
fn an_older_copy_of_the_whole_folder_opens_as_it_was() {
    let (dir, to) = (folder(), folder());
    let store = Store::open(dir.path()).expect("opens");
    write(&store, 0..5);
    copy(dir.path(), to.path(), &ALL);
    write(&store, 5..8);
    let found = Store::open(to.path()).expect("opens");
    assert!(found.read_only().is_none());
    assert_eq!(lines(&found).len(), 5);
}
