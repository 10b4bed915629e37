//! A disk that changes signatures, or the key that they are held against: the lines are whole,
//! and an export brings all of them that can still be shown to be their writer's.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::io::Cursor;

use chrono::DateTime;
use rusqlite::Connection;
use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;
use swarfbook_store::{Exported, NewEntry, Store, read_back};
use tempfile::TempDir;
use uuid::Uuid;

fn job() -> JobId {
    JobId(Uuid::from_u128(7))
}

/// A store of four lines, after `sql` was done to its database.
fn damaged(sql: &str) -> (TempDir, Store) {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    for step in ["a", "b", "c", "d"] {
        let line = NewEntry {
            job: job(),
            fact: Fact::StepTicked { step: step.into() },
            now: DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time"),
        };
        store.append(&[line]).expect("written");
    }
    drop(store);
    let db = Connection::open(dir.path().join("swarfbook.db")).expect("opens");
    let trigger = "SELECT sql FROM sqlite_master WHERE name = 'entry_is_never_changed'";
    let trigger: String = db.query_row(trigger, [], |row| row.get(0)).expect("there");
    db.execute_batch(&format!(
        "DROP TRIGGER entry_is_never_changed; {sql}; {trigger}"
    ))
    .expect("changed");
    drop(db);
    let store = Store::open(dir.path()).expect("opens");
    (dir, store)
}

/// What an export holds, and a new store that took it in.
fn brought_over(store: &Store) -> (Exported, TempDir, Store) {
    let (holds, taken, dir, new) = taken_in(store);
    assert_eq!(taken.entries, holds.entries);
    (holds, dir, new)
}

/// The same, with what the import said.
fn taken_in(store: &Store) -> (Exported, Exported, TempDir, Store) {
    let mut file = Cursor::new(Vec::new());
    let holds = store.export(&mut file, &[]).expect("exports");
    assert_eq!(read_back(&mut file).expect("whole"), holds);
    let dir = tempfile::tempdir().expect("folder");
    let new = Store::open(dir.path()).expect("opens");
    let taken = new.import_export(&mut file, 0, &[], |_| None);
    (holds, taken.expect("taken in"), dir, new)
}

/// Who changes lines can't sign them, but can leave the signatures out: an empty store has
/// nothing to hold that against, so it says that nobody vouches for them.
#[test]
fn lines_that_nobody_signed_are_counted_where_they_come_in() {
    for (sql, unsigned) in [
        ("UPDATE entry SET signature = NULL", 4),
        // The signed ones behind them name them.
        ("UPDATE entry SET signature = NULL WHERE seq < 3", 0),
        ("SELECT 1", 0),
    ] {
        let (_dir, store) = damaged(sql);
        let (_, taken, _there, new) = taken_in(&store);
        assert_eq!((taken.entries, taken.unsigned), (4, unsigned), "{sql}");
        // What is here already did not come in.
        let mut again = Cursor::new(Vec::new());
        store.export(&mut again, &[]).expect("exports");
        let again = new.import_export(&mut again, 0, &[], |_| None);
        assert_eq!(again.expect("taken in").unsigned, 0, "{sql}");
    }
}

#[test]
fn a_signature_that_a_disk_changed_keeps_no_line_back_that_another_stands_for() {
    for sql in [
        "UPDATE entry SET signature = 'zz' || substr(signature, 3) WHERE seq = 2",
        "UPDATE entry SET signature = replace(signature, substr(signature, 1, 4), '0000') WHERE seq = 2",
        "UPDATE entry SET signature = '' WHERE seq IN (2, 3)",
    ] {
        let (_dir, store) = damaged(sql);
        let (holds, _there, new) = brought_over(&store);
        assert_eq!(
            (holds.entries, holds.not_whole.lines_lost.len()),
            (4, 0),
            "{sql}"
        );
        assert!(!new.unsigned(job()).expect("reads").is_empty(), "{sql}");
    }
}

#[test]
fn the_last_line_without_its_signature_is_listed() {
    let (_dir, store) = damaged("UPDATE entry SET signature = 'zz' WHERE seq = 4");
    let (holds, _there, new) = brought_over(&store);
    assert_eq!(holds.entries, 3);
    let lost = holds.not_whole.lines_lost[0];
    assert_eq!((lost.first, lost.last), (4, 4));
    assert!(new.unsigned(job()).expect("reads").is_empty());
}

#[test]
fn a_changed_key_keeps_no_line_back() {
    for key in [
        "zz",
        "0000000000000000000000000000000000000000000000000000000000000000",
    ] {
        let (_dir, store) = damaged(&format!("UPDATE writer SET public_key = '{key}'"));
        let (holds, _there, new) = brought_over(&store);
        assert_eq!((holds.entries, holds.not_whole.lines_lost.len()), (4, 0));
        assert_eq!(new.unsigned(job()).expect("reads").len(), 4);
    }
}
