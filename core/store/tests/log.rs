//! The log keeps what was written, in a chain, through everything.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use chrono::{DateTime, FixedOffset};
use proptest::prelude::*;
use swarfbook_job::entry::Sealed;
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::fold::fold;
use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_store::{Imported, NewEntry, Store, StoreError};
use uuid::Uuid;

fn at(minute: u32) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
        + chrono::Duration::minutes(i64::from(minute))
}

fn tick(job: JobId, step: &str, minute: u32) -> NewEntry {
    NewEntry {
        job,
        fact: Fact::StepTicked { step: step.into() },
        now: at(minute),
    }
}

fn job() -> JobId {
    JobId(Uuid::from_u128(7))
}

fn open(dir: &Path) -> Store {
    Store::open(dir).expect("opens")
}

#[test]
fn what_was_appended_is_there_after_reopening_and_in_a_chain() {
    let dir = tempfile::tempdir().expect("folder");
    let written = {
        let store = open(dir.path());
        let mut written = store.append(&[tick(job(), "a", 0)]).expect("first");
        // The wall clock steps back; the order of writing must not.
        written.extend(
            store
                .append(&[tick(job(), "b", 0), tick(job(), "c", 0)])
                .expect("more"),
        );
        written
    };
    let store = open(dir.path());
    let kept = store
        .entries_after(store.device(), 0, usize::MAX)
        .expect("reads");
    assert_eq!(kept, written);
    let mut prev = Sha256Hex::ZERO;
    for (index, line) in kept.iter().enumerate() {
        assert_eq!(line.entry.seq, index as u64 + 1);
        assert_eq!(line.entry.prev, prev);
        prev = line.hash;
    }
    assert!(kept.windows(2).all(|w| w[0].entry.hlc < w[1].entry.hlc));
}

#[test]
fn what_is_done_together_is_there_whole_or_not_at_all() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let job = job();
    let both = |store: &Store| {
        store.append(&[tick(job, "car", 1)])?;
        let seen = store.entries(job)?.len();
        store.append(&[tick(job, "complaint", 2)])?;
        Ok::<_, StoreError>(seen)
    };
    let failed: Result<(), StoreError> = store.together(|store| {
        both(store)?;
        Err(StoreError::Export("on purpose".into()))
    });
    assert!(failed.is_err());
    assert_eq!(store.entries(job).expect("reads").len(), 0);

    let broke = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        store.together(|store| -> Result<(), StoreError> {
            both(store)?;
            panic!("on purpose")
        })
    }));
    assert!(broke.is_err());

    let seen = store.together(both).expect("writes");
    assert_eq!(seen, 1, "it reads what it wrote");
    store.append(&[tick(job, "codes", 3)]).expect("writes");
    drop(store);
    assert_eq!(open(dir.path()).entries(job).expect("reads").len(), 3);
}

#[test]
fn a_line_that_names_a_photo_needs_the_photo() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let line = |photo| NewEntry {
        job: job(),
        fact: Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo,
            subject: PhotoSubject::Pan,
        },
        now: at(0),
    };
    let missing = store.append(&[line(Sha256Hex::of(b"not here"))]);
    assert!(matches!(missing, Err(StoreError::Photo(_))), "{missing:?}");
    assert!(
        store.heads().expect("heads").is_empty(),
        "nothing was written"
    );
    let photo = store.put_photo(b"some bytes").expect("kept");
    assert_eq!(store.photo(photo).expect("read"), b"some bytes");
    store.append(&[line(photo)]).expect("written");
    assert_eq!(store.photos_named().expect("named"), [photo]);
    assert!(store.is_photo_named(photo).expect("asked"));
    let other = store.put_photo(b"some other bytes").expect("kept");
    assert!(!store.is_photo_named(other).expect("asked"));
    assert!(matches!(store.put_photo(b""), Err(StoreError::Photo(_))));
}

#[test]
fn sqlite_refuses_to_change_or_delete_a_line() {
    let dir = tempfile::tempdir().expect("folder");
    open(dir.path())
        .append(&[tick(job(), "a", 0)])
        .expect("written");
    let db = rusqlite::Connection::open(dir.path().join("swarfbook.db")).expect("opens");
    for sql in ["DELETE FROM entry", "UPDATE entry SET bytes = '{}'"] {
        let refused = db.execute(sql, []).expect_err("must be refused");
        assert!(refused.to_string().contains("never"), "{refused}");
    }
}

#[test]
fn a_changed_forked_or_early_line_is_refused_and_changes_nothing() {
    let (here, there) = (
        tempfile::tempdir().expect("f"),
        tempfile::tempdir().expect("f"),
    );
    let (here, there) = (open(here.path()), open(there.path()));
    let lines = there
        .append(&[
            tick(job(), "a", 0),
            tick(job(), "b", 1),
            tick(job(), "c", 2),
        ])
        .expect("written");
    let gap = here.import(&lines[1..], 0);
    assert!(
        matches!(gap, Err(StoreError::Gap { next: 1, .. })),
        "{gap:?}"
    );

    let mut changed = lines[1].entry.clone();
    changed.body = Fact::StepTicked { step: "x".into() }.into();
    // By the device itself: whoever else signs it is refused before.
    let changed = there
        .own_key()
        .expect("a key")
        .signed(changed.seal().expect("seals"));
    let forked = here.import(&[lines[0].clone(), changed.clone(), lines[2].clone()], 0);
    assert!(
        matches!(forked, Err(StoreError::Fork { seq: 3, .. })),
        "{forked:?}"
    );
    assert!(here.heads().expect("heads").is_empty(), "all or none");

    assert_eq!(here.import(&lines, 0).expect("good"), [Imported::New; 3]);
    assert_eq!(here.import(&lines, 0).expect("again"), [Imported::Known; 3]);
    let other = here.import(&[changed], 0);
    assert!(
        matches!(other, Err(StoreError::Fork { seq: 2, .. })),
        "{other:?}"
    );

    let tampered = lines[0].bytes.replace("\"a\"", "\"z\"");
    assert!(Sealed::read(&tampered).is_ok_and(|line| line.hash != lines[0].hash));
    assert!(
        Sealed::read(&format!(" {}", lines[0].bytes)).is_err(),
        "not canonical"
    );
}

#[test]
fn a_broken_or_newer_database_is_told_and_left_as_it_is() {
    let dir = tempfile::tempdir().expect("folder");
    let path = dir.path().join("swarfbook.db");
    std::fs::write(
        &path,
        b"this is no database, but it has some length to it".repeat(30),
    )
    .expect("w");
    let before = std::fs::read(&path).expect("r");
    assert!(matches!(
        Store::open(dir.path()),
        Err(StoreError::Unsaved(_))
    ));
    assert_eq!(std::fs::read(&path).expect("r"), before);

    let dir = tempfile::tempdir().expect("folder");
    drop(open(dir.path()));
    let db = rusqlite::Connection::open(dir.path().join("swarfbook.db")).expect("opens");
    db.pragma_update(None, "user_version", 99).expect("set");
    drop(db);
    assert!(matches!(
        Store::open(dir.path()),
        Err(StoreError::Newer { found: 99, .. })
    ));
}

#[test]
fn two_programs_that_open_a_new_store_at_once_share_it() {
    for _ in 0..20 {
        let dir = tempfile::tempdir().expect("folder");
        let devices: Vec<_> = std::thread::scope(|scope| {
            let opening: Vec<_> = (0..4)
                .map(|_| scope.spawn(|| open(dir.path()).device()))
                .collect();
            opening
                .into_iter()
                .map(|o| o.join().expect("opened"))
                .collect()
        });
        assert!(devices.windows(2).all(|w| w[0] == w[1]), "{devices:?}");
    }
}

#[test]
fn a_half_written_photo_is_gone_at_the_next_start() {
    let dir = tempfile::tempdir().expect("folder");
    drop(open(dir.path()));
    let half = dir.path().join("photos/half-x");
    std::fs::write(&half, b"half").expect("w");
    drop(open(dir.path()));
    assert!(half.exists(), "another program may be writing it");
    let hour = std::time::Duration::from_secs(3600);
    std::fs::File::options()
        .write(true)
        .open(&half)
        .and_then(|f| f.set_modified(std::time::SystemTime::now() - hour))
        .expect("aged");
    drop(open(dir.path()));
    assert!(!half.exists());
}

#[test]
fn a_copy_is_kept_apart_and_may_go() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let photos = store.photos();
    let photo = store.put_photo(b"as taken").expect("kept");
    assert_eq!(photos.copy(photo, "small"), None);
    photos.keep_copy(photo, "small", b"small").expect("kept");
    photos
        .keep_copy(photo, "small", b"smaller")
        .expect("kept anew");
    assert_eq!(
        photos.copy(photo, "small").as_deref(),
        Some(&b"smaller"[..])
    );
    assert_eq!(photos.copy(photo, "other"), None, "each form for itself");
    assert_eq!(store.photo(photo).expect("here"), b"as taken");
    std::fs::remove_dir_all(dir.path().join("copies")).expect("removed");
    assert_eq!(open(dir.path()).photos().copy(photo, "small"), None);
}

#[test]
fn a_customer_is_erased_without_breaking_the_chain() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let id = swarfbook_job::id::CustomerId(Uuid::from_u128(9));
    store
        .save_customer(id, "Ada Invented", "none", at(0))
        .expect("kept");
    store
        .append(&[NewEntry {
            job: job(),
            fact: Fact::CustomerLinked { customer: id },
            now: at(1),
        }])
        .expect("w");
    let kept = store.customers().expect("all");
    let row = (job(), String::new(), "DEMO 101 Ada Invented".to_owned());
    store.refresh(&[row]).expect("told");
    assert_eq!(store.jobs("invented", 0, 9).expect("found").total, 1);
    store.erase_customer(id, at(2)).expect("erased");
    assert_eq!(store.customer(id).expect("read").expect("there").name, "");
    store
        .merge_customers(&kept, 0)
        .expect("an old copy comes back from a peer");
    assert!(store.customer(id).expect("read").expect("there").erased);
    for file in ["swarfbook.db", "swarfbook.db-wal"] {
        let bytes = std::fs::read(dir.path().join(file)).unwrap_or_default();
        assert!(
            !bytes
                .windows(12)
                .any(|w| w.eq_ignore_ascii_case(b"Ada Invented")),
            "{file} still holds the name"
        );
    }
    assert_eq!(store.head(store.device()).expect("head").0, 1);
}

#[test]
fn a_customers_change_makes_only_their_own_jobs_stale() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let customer = swarfbook_job::id::CustomerId(Uuid::from_u128(9));
    let other = JobId(Uuid::from_u128(8));
    store
        .append(&[
            NewEntry {
                job: job(),
                fact: Fact::CustomerLinked { customer },
                now: at(0),
            },
            tick(other, "a", 1),
        ])
        .expect("written");
    let lines = [job(), other].map(|job| (job, String::new(), String::new()));
    store.refresh(&lines).expect("told");
    assert!(store.stale_jobs().expect("reads").is_empty());
    store
        .save_customer(customer, "Sam Invented", "", at(2))
        .expect("kept");
    assert_eq!(store.stale_jobs().expect("reads"), [job()]);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    /// Lines of two devices reach a third in any interleaving: the same state.
    #[test]
    fn any_interleaving_of_devices_gives_the_same_state(picks in prop::collection::vec(any::<bool>(), 0..24)) {
        let folders: Vec<_> = (0..4).map(|_| tempfile::tempdir().expect("folder")).collect();
        let stores: Vec<_> = folders.iter().map(|f| open(f.path())).collect();
        let mut lines = [Vec::new(), Vec::new()];
        for (minute, device) in [0, 1, 0, 1, 1, 0, 0, 1].into_iter().enumerate() {
            let step = ["a", "b"][minute % 2];
            lines[device].extend(stores[device].append(&[tick(job(), step, minute as u32)]).expect("w"));
        }
        let mut queues = lines.clone().map(std::collections::VecDeque::from);
        for pick in picks {
            if let Some(line) = queues[usize::from(pick)].pop_front() {
                stores[2].import(&[line], 0).expect("fits");
            }
        }
        for queue in queues {
            stores[2].import(&Vec::from(queue), 0).expect("fits");
        }
        stores[3].import(&lines.concat(), 0).expect("fits");
        let states: Vec<_> = [2, 3]
            .map(|s| fold(job(), &stores[s].entries(job()).expect("reads")))
            .into();
        prop_assert_eq!(&states[0], &states[1]);
        prop_assert_eq!(states[0].lines.len(), 8);
    }
}
