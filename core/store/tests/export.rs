//! An export holds everything, opens without this program, and is not believed blindly.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};
use std::path::Path;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, JobId, Sha256Hex};
use swarfbook_store::{Exported, NewEntry, ProcedureText, Store, StoreError};
use uuid::Uuid;
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

/// An archive's parts by name.
type Parts = BTreeMap<String, Vec<u8>>;

fn at(minute: u32) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
        + chrono::Duration::minutes(i64::from(minute))
}

fn job() -> JobId {
    JobId(Uuid::from_u128(7))
}

fn filled(dir: &Path) -> Store {
    let mut store = Store::open(dir).expect("opens");
    let photo = store.put_photo(b"a picture, as taken").expect("kept");
    let customer = CustomerId(Uuid::from_u128(9));
    store
        .save_customer(customer, "Ada Invented", "none", at(0))
        .expect("kept");
    let facts = [
        Fact::CustomerLinked { customer },
        Fact::PhotoTaken {
            photo,
            subject: PhotoSubject::Pan,
            step: "pan".into(),
        },
        Fact::StepTicked { step: "a".into() },
    ];
    for fact in facts {
        let line = NewEntry {
            job: job(),
            fact,
            now: at(1),
        };
        store.append(&[line]).expect("written");
    }
    store
        .add_procedure(&ProcedureText {
            id: "own".into(),
            version: 2,
            text: "not read here\n".into(),
        })
        .expect("kept");
    store.keep_draft(job(), "note", "half ty").expect("kept");
    store.set("shown", &"bay").expect("kept");
    store.set("key", &"a secret").expect("kept");
    store
}

fn exported(store: &Store) -> Vec<u8> {
    let mut out = Cursor::new(Vec::new());
    store.export(&mut out, &["shown"]).expect("exports");
    out.into_inner()
}

fn import(store: &mut Store, bytes: &[u8]) -> Result<Exported, StoreError> {
    store.import_export(Cursor::new(bytes), 0, &["shown"], |_| None)
}

/// The archive's parts by name, and an archive of parts, by another hand than the store's.
fn parts(bytes: &[u8]) -> Parts {
    let mut zip = ZipArchive::new(Cursor::new(bytes)).expect("a zip");
    (0..zip.len())
        .map(|index| {
            let mut part = zip.by_index(index).expect("a part");
            let mut bytes = Vec::new();
            part.read_to_end(&mut bytes).expect("reads");
            (part.name().expect("a name").into_owned(), bytes)
        })
        .collect()
}

fn packed(parts: &Parts) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in parts {
        zip.start_file(name, SimpleFileOptions::default())
            .expect("starts");
        zip.write_all(bytes).expect("writes");
    }
    zip.finish().expect("ends").into_inner()
}

#[test]
fn what_is_exported_comes_back_whole_and_a_second_time_changes_nothing() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let theirs = filled(from.path());
    let bytes = exported(&theirs);
    assert_eq!(bytes, exported(&theirs), "same store, same bytes");

    let mut ours = Store::open(to.path()).expect("opens");
    let new = import(&mut ours, &bytes).expect("comes in");
    let whole = Exported {
        entries: 3,
        photos: 1,
        photos_missing: 0,
        customers: 1,
        procedures: 1,
    };
    assert_eq!(new, whole);
    let lines = |store: &Store| {
        store
            .entries_after(theirs.device(), 0, usize::MAX)
            .expect("reads")
    };
    assert_eq!(lines(&ours), lines(&theirs));
    let photo = Sha256Hex::of(b"a picture, as taken");
    assert_eq!(ours.photo(photo).expect("is here"), b"a picture, as taken");
    assert_eq!(ours.customers().ok(), theirs.customers().ok());
    assert_eq!(ours.procedures().ok(), theirs.procedures().ok());
    assert_eq!(ours.drafts(job()).ok(), theirs.drafts(job()).ok());
    assert_eq!(ours.setting("shown").ok(), Some(Some("bay".to_owned())));
    assert_ne!(ours.device(), theirs.device(), "a name of its own");
    assert_eq!(
        import(&mut ours, &bytes).expect("again"),
        Exported::default()
    );
}

#[test]
fn keys_stay_behind() {
    let dir = tempfile::tempdir().expect("folder");
    for (name, bytes) in parts(&exported(&filled(dir.path()))) {
        assert!(
            !String::from_utf8_lossy(&bytes).contains("a secret"),
            "{name} holds a key"
        );
    }
}

/// Who hands over a changed file would else choose the key that the hub lets people in by.
#[test]
fn a_setting_that_no_export_holds_is_not_taken_in_nor_is_anything_beside_it() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let good = exported(&filled(from.path()));
    for planted in ["hub_key", "device_key", "clock", "sync"] {
        let mut changed = parts(&good);
        let settings = format!("{{\"shown\":\"bay\",\"{planted}\":\"theirs\"}}");
        changed.insert("settings.json".into(), settings.into_bytes());
        let mut store = Store::open(to.path()).expect("opens");
        let before: Option<serde_json::Value> = store.setting(planted).expect("reads");
        match import(&mut store, &packed(&changed)) {
            Err(StoreError::Export(why)) => assert!(why.contains(planted), "{why}"),
            other => panic!("{planted}: {other:?}"),
        }
        assert_eq!(store.setting(planted).expect("reads"), before, "{planted}");
        assert_eq!(store.setting::<String>("shown").expect("reads"), None);
        assert!(store.heads().expect("reads").is_empty(), "{planted}");
    }
}

/// A line that does not fit those here stops all: no photo, customer, draft or procedure stays.
#[test]
fn what_can_not_come_in_whole_leaves_nothing_behind() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let good = exported(&filled(from.path()));
    let mut store = Store::open(to.path()).expect("opens");
    // A draft that is not one: it is read after lines and customers are in.
    let mut changed = parts(&good);
    changed.insert("drafts.jsonl".into(), b"{\"job\":7}\n".to_vec());
    assert!(import(&mut store, &packed(&changed)).is_err());
    // A history of the same device that parts from the one here at its second line.
    let here = store.device();
    let own = NewEntry {
        job: job(),
        fact: Fact::StepTicked { step: "b".into() },
        now: at(2),
    };
    store.append(&[own]).expect("written");
    let mut changed = parts(&good);
    let log = changed
        .keys()
        .find(|name| name.starts_with("log/"))
        .expect("a log")
        .clone();
    let text = String::from_utf8_lossy(&changed[&log]).into_owned();
    let device = log.trim_start_matches("log/").trim_end_matches(".jsonl");
    let mut prev = "0".repeat(64);
    let mut forged = String::new();
    for line in text.lines() {
        let old = &line[line.find("\"prev\":\"").expect("a hash") + 8..][..64];
        let line = line.replace(device, &here.to_string()).replace(old, &prev);
        prev = Sha256Hex::of(line.as_bytes()).to_string();
        forged += &format!("{line}\n");
    }
    let last = Sha256Hex::of(text.lines().last().expect("lines").as_bytes()).to_string();
    let manifest = String::from_utf8_lossy(&changed["manifest.json"])
        .replace(&last, &prev)
        .replace(device, &here.to_string());
    changed.insert("manifest.json".into(), manifest.into_bytes());
    changed.remove(&log);
    changed.insert(format!("log/{here}.jsonl"), forged.into_bytes());
    match import(&mut store, &packed(&changed)) {
        Err(StoreError::Fork { .. }) => {}
        other => panic!("{other:?}"),
    }
    assert_eq!(store.heads().expect("reads").get(&here), Some(&1));
    assert!(!store.has_photo(Sha256Hex::of(b"a picture, as taken")));
    assert!(store.customers().expect("reads").is_empty());
    assert!(store.procedures().expect("reads").is_empty());
    assert!(store.drafts(job()).expect("reads").is_empty());
    assert_eq!(store.setting::<String>("shown").expect("reads"), None);
}

#[test]
fn the_log_can_be_checked_by_the_readme_alone() {
    let dir = tempfile::tempdir().expect("folder");
    let parts = parts(&exported(&filled(dir.path())));
    let readme = String::from_utf8_lossy(&parts["README.txt"]).into_owned();
    for name in parts.keys().filter(|name| !name.contains('/')) {
        assert!(
            name == "README.txt" || readme.contains(name.as_str()),
            "{name} is not explained"
        );
    }
    let (_, log) = parts
        .iter()
        .find(|(name, _)| name.starts_with("log/"))
        .expect("a log");
    let mut prev = "0".repeat(64);
    for line in String::from_utf8(log.clone()).expect("text").lines() {
        let entry: serde_json::Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(entry["prev"], prev.as_str());
        prev = Sha256Hex::of(line.as_bytes()).to_string();
    }
}

#[test]
fn what_was_changed_cut_or_is_no_export_changes_nothing() {
    let dir = tempfile::tempdir().expect("folder");
    let good = exported(&filled(dir.path()));
    let name_of = |start: &str| {
        parts(&good)
            .keys()
            .find(|name| name.starts_with(start))
            .expect("a part")
            .clone()
    };
    let with = |change: &dyn Fn(&mut Parts)| {
        let mut parts = parts(&good);
        change(&mut parts);
        packed(&parts)
    };
    let (log, photo) = (name_of("log/"), name_of("photos/"));
    let bad: [(&str, Vec<u8>); 10] = [
        ("empty", Vec::new()),
        ("no zip", b"no archive at all".to_vec()),
        ("cut", good[..good.len() / 2].to_vec()),
        ("another zip", packed(&BTreeMap::new())),
        ("no log", with(&|parts| drop(parts.remove(&log)))),
        ("no photo", with(&|parts| drop(parts.remove(&photo)))),
        (
            "another photo",
            with(&|parts| drop(parts.insert(photo.clone(), b"another".to_vec()))),
        ),
        (
            "a word of a line",
            with(&|parts| {
                let text = String::from_utf8_lossy(&parts[&log]).replace("\"a\"", "\"b\"");
                parts.insert(log.clone(), text.into_bytes());
            }),
        ),
        (
            "the last line gone",
            with(&|parts| {
                let text = String::from_utf8_lossy(&parts[&log]).into_owned();
                let cut = text.trim_end().rfind('\n').expect("lines") + 1;
                parts.insert(log.clone(), text.as_bytes()[..cut].to_vec());
                let manifest = String::from_utf8_lossy(&parts["manifest.json"])
                    .replace("\"entries\":3", "\"entries\":2");
                parts.insert("manifest.json".into(), manifest.into_bytes());
            }),
        ),
        (
            "a newer form",
            with(&|parts| {
                let text = String::from_utf8_lossy(&parts["manifest.json"])
                    .replace("\"version\":1", "\"version\":2");
                parts.insert("manifest.json".into(), text.into_bytes());
            }),
        ),
    ];
    for (what, bytes) in bad {
        let to = tempfile::tempdir().expect("folder");
        let mut store = Store::open(to.path()).expect("opens");
        match import(&mut store, &bytes) {
            Err(StoreError::Export(_)) => {}
            other => panic!("{what}: {other:?}"),
        }
        assert!(store.heads().expect("reads").is_empty(), "{what}");
        assert!(store.customers().expect("reads").is_empty(), "{what}");
    }
}

#[test]
fn an_export_made_to_fit_a_changed_line_forks_what_is_here() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let good = exported(&filled(from.path()));
    let mut store = Store::open(to.path()).expect("opens");
    import(&mut store, &good).expect("comes in");
    let mut changed = parts(&good);
    let log = changed
        .keys()
        .find(|name| name.starts_with("log/"))
        .expect("a log")
        .clone();
    let last =
        |text: &str| Sha256Hex::of(text.lines().last().expect("lines").as_bytes()).to_string();
    let before = String::from_utf8_lossy(&changed[&log]).into_owned();
    let after = before.replace("\"step\":\"a\"", "\"step\":\"b\"");
    let manifest =
        String::from_utf8_lossy(&changed["manifest.json"]).replace(&last(&before), &last(&after));
    changed.insert(log, after.into_bytes());
    changed.insert("manifest.json".into(), manifest.into_bytes());
    assert!(matches!(
        import(&mut store, &packed(&changed)),
        Err(StoreError::Fork { .. })
    ));
}
