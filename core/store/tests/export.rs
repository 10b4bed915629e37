//! An export holds everything, opens without this program, and is not believed blindly.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};
use std::path::Path;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, JobId, Sha256Hex};
use swarfbook_store::{
    Exported, LostLines, NewEntry, NotWhole, ProcedureText, Store, StoreError, read_back,
};
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
    let store = Store::open(dir).expect("opens");
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

fn import(store: &Store, bytes: &[u8]) -> Result<Exported, StoreError> {
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

    let ours = Store::open(to.path()).expect("opens");
    let new = import(&ours, &bytes).expect("comes in");
    let whole = Exported {
        entries: 3,
        photos: 1,
        photos_missing: 0,
        customers: 1,
        procedures: 1,
        not_whole: NotWhole::default(),
        unsigned: 0,
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
    assert_eq!(import(&ours, &bytes).expect("again"), Exported::default());
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
        let store = Store::open(to.path()).expect("opens");
        let before: Option<serde_json::Value> = store.setting(planted).expect("reads");
        match import(&store, &packed(&changed)) {
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
    let store = Store::open(to.path()).expect("opens");
    // A draft that is not one: it is read after lines and customers are in.
    let mut changed = parts(&good);
    changed.insert("drafts.jsonl".into(), b"{\"job\":7}\n".to_vec());
    assert!(import(&store, &packed(&changed)).is_err());
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
        .replace(device, &here.to_string())
        .replace("\"signatures\":3", "\"signatures\":0");
    // Who changed it can't sign it.
    changed.retain(|name, _| !name.starts_with("signatures/"));
    changed.insert("manifest.json".into(), manifest.into_bytes());
    changed.remove(&log);
    changed.insert(format!("log/{here}.jsonl"), forged.into_bytes());
    match import(&store, &packed(&changed)) {
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
    let bad: [(&str, Vec<u8>); 9] = [
        ("empty", Vec::new()),
        ("no zip", b"no archive at all".to_vec()),
        ("cut", good[..good.len() / 2].to_vec()),
        ("another zip", packed(&BTreeMap::new())),
        ("no log", with(&|parts| drop(parts.remove(&log)))),
        ("no photo", with(&|parts| drop(parts.remove(&photo)))),
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
        let store = Store::open(to.path()).expect("opens");
        match import(&store, &bytes) {
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
    let store = Store::open(to.path()).expect("opens");
    import(&store, &good).expect("comes in");
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
    let manifest = String::from_utf8_lossy(&changed["manifest.json"])
        .replace(&last(&before), &last(&after))
        .replace("\"signatures\":3", "\"signatures\":0");
    // Who changed it can't sign it.
    changed.retain(|name, _| !name.starts_with("signatures/"));
    changed.insert(log, after.into_bytes());
    changed.insert("manifest.json".into(), manifest.into_bytes());
    assert!(matches!(
        import(&store, &packed(&changed)),
        Err(StoreError::Fork { .. })
    ));
}

/// What a flipped bit on the disk does: a line's text and a photo's bytes are other ones.
fn damage(dir: &Path) {
    let db = rusqlite::Connection::open(dir.join("swarfbook.db")).expect("opens");
    db.execute_batch(
        "DROP TRIGGER entry_is_never_changed;
         UPDATE entry SET bytes = replace(bytes, '\"pan\"', '\"qan\"') WHERE seq = 2;",
    )
    .expect("changed");
    let name = Sha256Hex::of(b"a picture, as taken").to_string();
    let file = dir.join("photos").join(&name[..2]).join(&name);
    std::fs::write(file, b"a picture, as tajen").expect("written");
}

#[test]
fn a_line_that_is_not_as_it_was_written_is_not_told_as_if_it_were() {
    let dir = tempfile::tempdir().expect("folder");
    let store = filled(dir.path());
    assert!(store.entries(job()).is_ok());
    damage(dir.path());
    assert!(store.entries(job()).is_err());
    assert!(store.entries_after(store.device(), 0, usize::MAX).is_err());
}

#[test]
fn what_is_whole_is_exported_the_rest_is_listed_and_a_later_import_fills_the_gap() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let theirs = filled(from.path());
    let device = theirs.device();
    let before = exported(&theirs);
    let photo = Sha256Hex::of(b"a picture, as taken");
    damage(from.path());
    let mut out = Cursor::new(Vec::new());
    let holds = theirs.export(&mut out, &["shown"]).expect("exports");
    let lost = NotWhole {
        lines_lost: vec![LostLines {
            device,
            first: 2,
            last: 2,
        }],
        lines_unnamed: 0,
        photos_damaged: vec![photo],
    };
    assert_eq!((holds.entries, holds.photos), (2, 0));
    assert_eq!(holds.not_whole, lost);
    let bytes = out.into_inner();
    assert_eq!(read_back(Cursor::new(&bytes)).expect("reads"), holds);

    let ours = Store::open(to.path()).expect("opens");
    let new = import(&ours, &bytes).expect("what is whole comes in");
    assert_eq!((new.entries, new.customers, new.procedures), (2, 1, 1));
    assert_eq!(new.not_whole, lost, "and what is lost is said");
    let seqs = |store: &Store| -> Vec<u64> {
        let lines = store.entries_after(device, 0, usize::MAX).expect("reads");
        lines.iter().map(|line| line.entry.seq).collect()
    };
    assert_eq!(seqs(&ours), [1, 3]);
    assert_eq!(ours.entries(job()).expect("reads").len(), 2);
    // Who has more is asked for all from the gap on.
    assert_eq!(ours.heads().expect("reads").get(&device), Some(&1));
    assert_eq!(import(&ours, &bytes).expect("again").entries, 0);

    // The export of before, or a device that still has the line and the photo.
    let new = import(&ours, &before).expect("fills the gap");
    assert_eq!((new.entries, new.photos), (1, 1));
    assert_eq!(seqs(&ours), [1, 2, 3]);
    assert_eq!(ours.heads().expect("reads").get(&device), Some(&3));
    assert!(ours.photo(photo).is_ok());
}

/// A gap is no door for a line that does not belong there.
#[test]
fn a_gap_is_filled_only_by_a_line_that_fits_both_ends_and_only_where_it_is_listed() {
    let (from, to) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let theirs = filled(from.path());
    let lines = theirs
        .entries_after(theirs.device(), 0, usize::MAX)
        .expect("reads");
    damage(from.path());
    let with_gap = exported(&theirs);
    let ours = Store::open(to.path()).expect("opens");
    import(&ours, &with_gap).expect("comes in");
    let mut other = lines[1].entry.clone();
    other.wall += chrono::Duration::minutes(1);
    let other = other.seal().expect("seals");
    assert!(matches!(
        ours.import(&[other], 0),
        Err(StoreError::Gap { seq: 2, .. })
    ));
    assert!(
        ours.import(&lines[1..2], 0).is_ok(),
        "the one that was lost"
    );

    let bare = tempfile::tempdir().expect("folder");
    let ours = Store::open(bare.path()).expect("opens");
    let mut unlisted = parts(&with_gap);
    let manifest = String::from_utf8_lossy(&unlisted["manifest.json"]).into_owned();
    let at = manifest.find("\"lines_lost\"").expect("is listed");
    let end = manifest[at..].find("],").expect("a list") + at + 2;
    let manifest = format!("{}{}", &manifest[..at], &manifest[end..]);
    unlisted.insert("manifest.json".into(), manifest.into_bytes());
    assert!(import(&ours, &packed(&unlisted)).is_err());
    assert!(ours.heads().expect("reads").is_empty());
}

/// An export is read back before it is called done: a byte that the disk wrote wrongly is seen.
#[test]
fn no_flipped_byte_of_an_export_goes_unseen_where_it_changes_what_the_export_says() {
    let dir = tempfile::tempdir().expect("folder");
    let good = exported(&filled(dir.path()));
    let says = parts(&good);
    let mut seen = 0;
    for at in 0..good.len() {
        let mut bytes = good.clone();
        bytes[at] ^= 1;
        match read_back(Cursor::new(&bytes)) {
            Err(_) => seen += 1,
            // Fields of the archive that no reader asks, such as a part's time.
            Ok(_) => assert!(parts(&bytes) == says, "byte {at}"),
        }
    }
    assert!(seen * 2 > good.len(), "{seen} of {}", good.len());
}
