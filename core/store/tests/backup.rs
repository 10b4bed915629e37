//! A backup is whole, whoever writes meanwhile; a store out of it is as good as the first.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, JobId, Sha256Hex};
use swarfbook_store::{LostLines, NewEntry, Store, StoreError};
use tempfile::TempDir;
use uuid::Uuid;

fn now() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
}

fn folder() -> TempDir {
    tempfile::tempdir().expect("folder")
}

fn append(store: &Store, fact: Fact) {
    let line = NewEntry {
        job: JobId(Uuid::from_u128(7)),
        fact,
        now: now(),
    };
    store.append(&[line]).expect("written");
}

fn take_photo(store: &Store, n: u32) -> Sha256Hex {
    let photo = store
        .put_photo(format!("picture {n}").as_bytes())
        .expect("kept");
    append(
        store,
        Fact::PhotoTaken {
            photo,
            subject: PhotoSubject::Pan,
            step: "pan".into(),
        },
    );
    photo
}

fn bytes(store: &Store, of: &Store) -> Vec<String> {
    let lines = store
        .entries_after(of.device(), 0, usize::MAX)
        .expect("reads");
    lines.into_iter().map(|line| line.bytes).collect()
}

#[test]
fn a_backup_while_others_write_is_one_moment_of_the_store_with_all_its_photos() {
    let (dir, to, again) = (folder(), folder(), folder());
    let store = Store::open(dir.path()).expect("opens");
    let customer = CustomerId(Uuid::from_u128(9));
    store
        .save_customer(customer, "Ada Invented", "none", now())
        .expect("kept");
    let key = store.own_key().expect("made").public_hex();
    for n in 0..5 {
        take_photo(&store, n);
    }
    let before = bytes(&store, &store).len();
    let going = AtomicBool::new(true);
    let done = std::thread::scope(|scope| {
        scope.spawn(|| {
            // Another program on the same store, as the hub beside the command line.
            let other = Store::open(dir.path()).expect("opens");
            for n in 100.. {
                if !going.load(Ordering::SeqCst) {
                    break;
                }
                take_photo(&other, n);
            }
        });
        let backups: Vec<_> = (0..4)
            .map(|_| store.backup(to.path()).expect("backs up"))
            .collect();
        going.store(false, Ordering::SeqCst);
        backups
    });
    assert!(done.windows(2).all(|two| two[0].lines <= two[1].lines));
    assert!(done[0].lines as usize >= before);
    let last = done.last().expect("four");
    assert_eq!(last.photos, last.lines, "a photo a line");
    assert!(last.photos_new < last.photos, "only what is new is copied");

    let target = again.path().join("new");
    let restored = Store::restore(to.path(), &target).expect("restores");
    assert_eq!((restored.lines, restored.photos), (last.lines, last.photos));
    let ours = Store::open(&target).expect("opens");
    assert!(ours.read_only().is_none());
    let lines = bytes(&ours, &store);
    assert_eq!(lines.len() as u64, last.lines);
    assert_eq!(lines, bytes(&store, &store)[..lines.len()]);
    for photo in ours.photos_named().expect("reads") {
        assert!(ours.photo(photo).is_ok());
    }
    assert_eq!(
        ours.writer_with(&key).expect("reads"),
        Some(store.device()),
        "so that reports of before are known"
    );
    assert_ne!(ours.own_key().expect("made").public_hex(), key);
    assert_eq!(ours.earlier_names().expect("reads"), [store.device()]);
    let known = ours.customer(customer).expect("reads").expect("is here");
    assert_eq!(known.name, "Ada Invented");
}

/// Two devices under one key could write in each other's name.
#[test]
fn a_restored_store_is_a_device_of_its_own_and_knows_the_old_one_by_its_key() {
    let (dir, to, again, third) = (folder(), folder(), folder(), folder());
    let old = Store::open(dir.path()).expect("opens");
    // A key without a line yet, as after pairing.
    let key = old.own_key().expect("made");
    old.backup(to.path()).expect("backs up");
    Store::restore(to.path(), again.path()).expect("restores");
    let new = Store::open(again.path()).expect("opens");
    append(&new, Fact::StepTicked { step: "a".into() });
    let signer = |store: &Store| store.own_key().expect("a key").public_hex();
    assert_ne!(signer(&new), key.public_hex());
    // The old one's lines come in under its own key, and under no other.
    append(&old, Fact::StepTicked { step: "b".into() });
    let mut lines = old
        .entries_after(old.device(), 0, usize::MAX)
        .expect("reads");
    let forged = new.own_key().expect("a key").signed(lines[0].clone());
    let refused = new.import(&[forged], 0);
    assert!(
        matches!(refused, Err(StoreError::NotItsWriters { .. })),
        "{refused:?}"
    );
    new.import(&lines.split_off(0), 0).expect("its own");
    // Once more: both names of before are kept.
    let second = folder();
    new.backup(second.path()).expect("backs up");
    Store::restore(second.path(), third.path()).expect("restores");
    let third = Store::open(third.path()).expect("opens");
    let names = [old.device(), new.device()];
    assert_eq!(third.earlier_names().expect("reads"), names);
}

/// The old device may have written on after the backup.
#[test]
fn a_restored_store_gives_out_no_number_twice() {
    let (dir, to, again) = (folder(), folder(), folder());
    let old = Store::open(dir.path()).expect("opens");
    take_photo(&old, 1);
    old.backup(to.path()).expect("backs up");
    append(&old, Fact::StepTicked { step: "a".into() });
    Store::restore(to.path(), again.path()).expect("restores");
    let new = Store::open(again.path()).expect("opens");
    append(&new, Fact::StepTicked { step: "b".into() });
    assert_ne!(new.device(), old.device());
    let theirs = old.entries_after(old.device(), 0, usize::MAX);
    new.import(&theirs.expect("reads"), 0).expect("fits");
    let theirs = new.entries_after(new.device(), 0, usize::MAX);
    old.import(&theirs.expect("reads"), 0).expect("fits");
    let job = JobId(Uuid::from_u128(7));
    assert_eq!(new.entries(job).expect("reads").len(), 3);
    assert_eq!(old.entries(job).expect("reads").len(), 3);
}

#[test]
fn a_later_backup_mends_a_damaged_photo_of_an_earlier_one_and_keeps_what_the_store_has_lost() {
    let (dir, to) = (folder(), folder());
    let store = Store::open(dir.path()).expect("opens");
    let (one, two) = (take_photo(&store, 1), take_photo(&store, 2));
    store.backup(to.path()).expect("backs up");
    let file = |of: &Path, photo: Sha256Hex| {
        let name = photo.to_string();
        of.join("photos").join(&name[..2]).join(name)
    };
    fs::write(file(to.path(), one), b"rotten").expect("written");
    fs::write(file(dir.path(), two), b"rotten").expect("written");
    let done = store.backup(to.path()).expect("backs up");
    assert_eq!((done.photos, done.photos_new), (2, 1));
    assert_eq!(done.photos_damaged, []);
    let kept = fs::read(file(to.path(), two)).expect("reads");
    assert_eq!(kept, b"picture 2");
    // Damaged on both sides: it is named, and all else is backed up.
    for of in [dir.path(), to.path()] {
        fs::write(file(of, one), b"rotten").expect("written");
    }
    let done = store.backup(to.path()).expect("backs up");
    assert_eq!(done.photos_damaged, [one]);
    assert_eq!(done.photos, 1);
}

#[test]
fn nothing_is_written_over_and_nothing_damaged_is_taken_for_a_backup() {
    let (dir, to, other) = (folder(), folder(), folder());
    let store = Store::open(dir.path()).expect("opens");
    for n in 0..40 {
        take_photo(&store, n);
    }
    let refused = |done: Result<_, StoreError>, why: &str| match done {
        Err(StoreError::Backup(words)) => assert!(words.contains(why), "{words}"),
        other => panic!("{why}: {other:?}"),
    };
    refused(store.backup(dir.path()), "folder that it is of");
    refused(
        store.backup(&dir.path().join("sub")),
        "folder that it is of",
    );
    let live = Store::open(other.path()).expect("opens");
    refused(store.backup(other.path()), "another store");
    assert!(live.device() != store.device());
    store.backup(to.path()).expect("backs up");
    refused(live.backup(to.path()), "another");
    refused(Store::restore(to.path(), dir.path()), "not empty");
    refused(Store::restore(other.path(), folder().path()), "no backup");

    let file = to.path().join("swarfbook.db");
    let good = fs::read(&file).expect("reads");
    let mut bad = good.clone();
    // A letter in each line, also where a page has an old copy of one: the database's
    // structure stays as it was.
    let said = b"\"step\":\"pan\"";
    for at in 0..bad.len() - said.len() {
        if bad[at..].starts_with(said) {
            bad[at + 9] = b't';
        }
    }
    fs::write(&file, bad).expect("written");
    let target = folder();
    assert!(matches!(
        Store::restore(to.path(), target.path()),
        Err(StoreError::Damaged(_))
    ));
    assert!(!target.path().join("swarfbook.db").exists());
    fs::write(&file, good).expect("written");
    Store::restore(to.path(), target.path()).expect("what was cut short is done again");
    assert_eq!(
        bytes(&Store::open(target.path()).expect("opens"), &store).len(),
        40
    );
}

/// Takes a row out of the log, as a disk or a hand may.
fn lose_line(database: &Path, seq: u64) {
    let db = rusqlite::Connection::open(database).expect("opens");
    db.execute_batch("DROP TRIGGER entry_is_never_deleted")
        .expect("dropped");
    let gone = db.execute("DELETE FROM entry WHERE seq = ?1", [seq]);
    assert_eq!(gone.ok(), Some(1));
}

#[test]
fn a_line_that_is_missing_in_the_middle_of_the_log_is_counted_by_nobody_and_named() {
    let (dir, to, again) = (folder(), folder(), folder());
    let store = Store::open(dir.path()).expect("opens");
    let device = store.device();
    for n in 0..6 {
        take_photo(&store, n);
    }
    drop(store);
    lose_line(&dir.path().join("swarfbook.db"), 3);
    let store = Store::open(dir.path()).expect("opens");
    let done = store.backup(to.path()).expect("as far as it goes");
    assert_eq!(done.lines, 5);
    let named = [LostLines {
        device,
        first: 3,
        last: 3,
    }];
    assert!(done.lines_lost == named && done.lines_unnamed == 0 && !done.is_whole());
    let restored = Store::restore(to.path(), &again.path().join("new")).expect("restores");
    assert_eq!(restored.lines, 5);
    assert!(restored.lines_lost == named && !restored.is_whole());
    let new = Store::open(&again.path().join("new")).expect("opens");
    assert!(new.read_only().is_none());
}
