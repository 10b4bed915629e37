//! Stores, exports and backups of every form that was ever written, made by the programs that
//! wrote them. Each must be read for ever; whoever changes a form adds one that has it.
//!
//! All hold the same: a job with a car, a note, a photo and one whose file is gone, and a
//! ticked step that is taken back; a customer, a procedure, a draft, a setting, a paired phone.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeSet;
use std::io::{Cursor, Read};
use std::path::Path;

use chrono::DateTime;
use rusqlite::Connection;
use serde_json::{Value, json};
use swarfbook_job::fact::Fact;
use swarfbook_job::fold::fold;
use swarfbook_job::id::{CustomerId, DeviceId, JobId, Sha256Hex};
use swarfbook_store::{Exported, LostLines, NewEntry, NotWhole, Store, read_back};
use tempfile::TempDir;
use uuid::Uuid;
use zip::ZipArchive;

/// Data folders by the form of their database (`user_version`), packed.
const STORES: [&[u8]; 4] = [
    include_bytes!("fixtures/store-form-1.zip"),
    include_bytes!("fixtures/store-form-2.zip"),
    include_bytes!("fixtures/store-form-3.zip"),
    include_bytes!("fixtures/store-form-4.zip"),
];

/// The exports of those stores, and of two of them after a line and a photo were damaged.
const EXPORTS: [&[u8]; 4] = [
    include_bytes!("fixtures/export-of-1.zip"),
    include_bytes!("fixtures/export-of-2.zip"),
    include_bytes!("fixtures/export-of-3.zip"),
    include_bytes!("fixtures/export-of-4.zip"),
];
const DAMAGED: [&[u8]; 2] = [
    include_bytes!("fixtures/export-of-3-damaged.zip"),
    include_bytes!("fixtures/export-of-4-damaged.zip"),
];

/// A backup of before lines were signed, and one of now, packed.
const BACKUPS: [&[u8]; 2] = [
    include_bytes!("fixtures/backup-of-3.zip"),
    include_bytes!("fixtures/backup-of-4.zip"),
];

const LINES: usize = 8;

fn unpacked(zip: &[u8]) -> TempDir {
    let dir = tempfile::tempdir().expect("folder");
    ZipArchive::new(Cursor::new(zip))
        .and_then(|mut zip| zip.extract(dir.path()))
        .expect("unpacked");
    dir
}

fn form_of(dir: &Path) -> usize {
    let db = Connection::open(dir.join("swarfbook.db")).expect("opens");
    db.pragma_query_value(None, "user_version", |row| row.get(0))
        .expect("a form")
}

/// How the tables are made.
fn tables_of(dir: &Path) -> BTreeSet<(String, Option<String>)> {
    let db = Connection::open(dir.join("swarfbook.db")).expect("opens");
    let mut query = db
        .prepare("SELECT name, sql FROM sqlite_master")
        .expect("reads");
    let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)));
    rows.expect("reads")
        .map(|row| row.expect("a row"))
        .collect()
}

fn job() -> JobId {
    JobId(Uuid::from_u128(7))
}

fn has_it_all(store: &Store, what: &str) {
    let entries = store.entries(job()).expect("reads");
    assert_eq!(entries.len(), LINES, "{what}");
    let state = fold(job(), &entries);
    assert_eq!(state.car.as_ref().expect("a car").plate, "INV 1", "{what}");
    assert_eq!(state.photos.len(), 2, "{what}");
    let lines = serde_json::to_string(&entries).expect("JSON");
    assert!(lines.contains("a first version \u{1f6e2} \\\""), "{what}");
    let taken_back = state
        .lines
        .iter()
        .filter(|line| line.retracted_by.is_some());
    assert_eq!(taken_back.count(), 1, "{what}");
    let customer = store.customer(CustomerId(Uuid::from_u128(8)));
    let customer = customer.expect("reads").expect("there");
    assert_eq!(customer.name, "Ada Invented", "{what}");
    let setting: Option<Value> = store.setting("settings").expect("reads");
    assert_eq!(setting, Some(json!({"shop": "Invented shop"})), "{what}");
    let procedures = store.procedures().expect("reads");
    assert_eq!(procedures[0].id, "shop-way", "{what}");
    let drafts = store.drafts(job()).expect("reads");
    assert_eq!(drafts["note"], "half typed", "{what}");
}

fn has_its_photo(store: &Store) {
    let bytes = b"stands for a photo";
    assert_eq!(store.photo(Sha256Hex::of(bytes)).expect("there"), bytes);
}

/// What can be done with any store.
fn is_of_use(store: &Store, what: &str) {
    let mut file = Cursor::new(Vec::new());
    let holds = store.export(&mut file, &["settings"]).expect("exports");
    assert_eq!(holds.photos_missing, 1, "{what}");
    assert_eq!(read_back(file).expect("whole"), holds, "{what}");
    let line = NewEntry {
        job: job(),
        fact: Fact::StepTicked { step: "on".into() },
        now: DateTime::parse_from_rfc3339("2026-03-03T08:00:00+01:00").expect("a time"),
    };
    store.append(&[line]).expect("written");
}

#[test]
fn a_store_of_every_form_is_opened_and_can_be_worked_with() {
    for (at, zip) in STORES.iter().enumerate() {
        let what = format!("form {}", at + 1);
        let dir = unpacked(zip);
        assert_eq!(form_of(dir.path()), at + 1);
        let store = Store::open(dir.path()).expect("opens");
        assert!(store.read_only().is_none(), "{what}");
        has_it_all(&store, &what);
        has_its_photo(&store);
        assert_eq!(store.peers().expect("reads")[0].name, "bay", "{what}");
        is_of_use(&store, &what);
    }
}

#[test]
fn the_form_of_now_has_a_store_that_is_kept() {
    let dir = tempfile::tempdir().expect("folder");
    drop(Store::open(dir.path()).expect("opens"));
    let fresh = tables_of(dir.path());
    assert_eq!(
        form_of(dir.path()),
        STORES.len(),
        "keep a store of this form before it lands: see core/store/examples/keep.rs"
    );
    // Whoever comes from an earlier form has the same tables as who begins now.
    for zip in STORES {
        let dir = unpacked(zip);
        drop(Store::open(dir.path()).expect("opens"));
        assert_eq!(tables_of(dir.path()), fresh);
    }
}

fn imported(zip: &[u8]) -> (TempDir, Store, Exported) {
    let dir = tempfile::tempdir().expect("folder");
    let store = Store::open(dir.path()).expect("opens");
    let new = store
        .import_export(Cursor::new(zip), 0, &["settings"], |_| None)
        .expect("imports");
    (dir, store, new)
}

#[test]
fn an_export_of_every_form_is_taken_in() {
    for (at, zip) in EXPORTS.iter().enumerate() {
        let what = format!("the export of form {}", at + 1);
        let (_dir, store, new) = imported(zip);
        assert_eq!((new.entries as usize, new.photos), (LINES, 1), "{what}");
        has_it_all(&store, &what);
        has_its_photo(&store);
        is_of_use(&store, &what);
    }
    for zip in DAMAGED {
        let (_dir, store, new) = imported(zip);
        assert_eq!(new.entries as usize, LINES - 1);
        assert_eq!(new.not_whole.lines_lost.len(), 1);
        assert_eq!(new.not_whole.photos_damaged.len(), 1);
        assert_eq!(store.entries(job()).expect("reads").len(), LINES - 1);
    }
}

/// The parts of an export and the fields in them, without what is different in each.
fn shape(zip: &[u8]) -> BTreeSet<String> {
    let mut archive = ZipArchive::new(Cursor::new(zip)).expect("a ZIP");
    let mut shape = BTreeSet::new();
    for at in 0..archive.len() {
        let mut part = archive.by_index(at).expect("a part");
        let name = part.name().expect("text").into_owned();
        let kind = name.split_once('/').map_or(name.as_str(), |(kind, _)| kind);
        shape.insert(kind.to_owned());
        if kind == "manifest.json" || kind.ends_with(".jsonl") {
            let mut text = String::new();
            part.read_to_string(&mut text).expect("text");
            for line in text.lines() {
                fields(&serde_json::from_str(line).expect("JSON"), kind, &mut shape);
            }
        }
    }
    shape
}

fn fields(value: &Value, at: &str, shape: &mut BTreeSet<String>) {
    match value {
        Value::Object(object) => {
            for (name, value) in object {
                // What each device, or each job, is called.
                let name = if Uuid::try_parse(name).is_ok() {
                    "ID"
                } else {
                    name
                };
                fields(value, &format!("{at}.{name}"), shape);
            }
        }
        Value::Array(all) => all.iter().for_each(|value| fields(value, at, shape)),
        _ => drop(shape.insert(at.to_owned())),
    }
}

#[test]
fn the_form_of_now_has_an_export_that_is_kept() {
    let kept: BTreeSet<String> = EXPORTS
        .iter()
        .chain(&DAMAGED)
        .flat_map(|zip| shape(zip))
        .collect();
    let (_dir, store, _) = imported(EXPORTS.last().expect("four"));
    let mut now = Cursor::new(Vec::new());
    store.export(&mut now, &["settings"]).expect("exports");
    let mut shape = shape(&now.into_inner());
    // All that a manifest may have.
    let lost = LostLines {
        device: DeviceId(Uuid::from_u128(1)),
        first: 1,
        last: 1,
    };
    let full = Exported {
        not_whole: NotWhole {
            lines_lost: vec![lost],
            lines_unnamed: 1,
            photos_damaged: vec![Sha256Hex::ZERO],
        },
        ..Exported::default()
    };
    let full = serde_json::to_value(full).expect("JSON");
    fields(&full, "manifest.json", &mut shape);
    // No store that can be made is known to write this: lines of which not even numbers are known.
    shape.remove("manifest.json.lines_unnamed");
    let lacking: Vec<_> = shape.difference(&kept).collect();
    assert!(
        lacking.is_empty(),
        "keep an export with these, see core/store/examples/keep.rs: {lacking:?}"
    );
}

#[test]
fn a_backup_of_every_form_is_restored() {
    for zip in BACKUPS {
        let (from, to) = (unpacked(zip), tempfile::tempdir().expect("folder"));
        let done = Store::restore(from.path(), to.path()).expect("restores");
        assert_eq!((done.lines as usize, done.photos), (LINES, 1));
        let store = Store::open(to.path()).expect("opens");
        has_it_all(&store, "a backup");
        is_of_use(&store, "a backup");
    }
    let newest = unpacked(BACKUPS.last().expect("two"));
    assert_eq!(form_of(newest.path()), STORES.len(), "keep a backup of now");
}
