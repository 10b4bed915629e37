//! The list of jobs: what it is found by, and how it comes from an earlier form.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::path::Path;

use chrono::{DateTime, FixedOffset};
use proptest::prelude::*;
use rusqlite::Connection;
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::Entry;
use swarfbook_job::fact::{Car, Fact};
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_store::{NewEntry, Store};
use uuid::Uuid;

fn at(minute: u32) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
        + chrono::Duration::minutes(i64::from(minute))
}

fn job(number: u128) -> JobId {
    JobId(Uuid::from_u128(number))
}

fn open(dir: &Path) -> Store {
    Store::open(dir).expect("opens")
}

fn car(plate: &str, vin: Option<&str>) -> Car {
    Car {
        plate: plate.into(),
        vin: vin.map(str::to_owned),
        ..Car::default()
    }
}

fn noted(job: JobId, car: Car, minute: u32) -> NewEntry {
    NewEntry {
        job,
        fact: Fact::CarNoted { car },
        now: at(minute),
    }
}

fn found(store: &Store, search: &str) -> Vec<JobId> {
    let page = store.jobs(search, 0, 100).expect("reads");
    let jobs: Vec<JobId> = page.rows.iter().map(|row| row.job).collect();
    assert_eq!(jobs.len(), page.total as usize);
    jobs
}

#[test]
fn jobs_of_a_car_are_found_by_plate_or_vin_before_the_list_was_made() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    let lines = [
        noted(job(1), car("SB 101", None), 0),
        noted(job(2), car(" sb 101 ", Some("VIN1")), 1),
        noted(job(3), car("SB 1011", Some("vin1")), 2),
        noted(job(4), car("", Some("VIN2")), 3),
    ];
    store.append(&lines).expect("written");
    let of = |plate: &str, vin| store.jobs_of_car(&car(plate, vin), 50).expect("reads");
    assert_eq!(of("SB 101", None), [job(2), job(1)], "the newest first");
    assert_eq!(of("", Some("Vin1")), [job(3), job(2)]);
    assert_eq!(of("SB 1011", Some("VIN2")), [job(3), job(4)]);
    assert_eq!(of("", None), []);
    let one = store.jobs_of_car(&car("SB 101", None), 1).expect("reads");
    assert_eq!(one, [job(2)]);
}

/// A database of the form before this one, with one line in it: its cars and its list are there.
#[test]
fn a_database_of_an_earlier_form_gains_what_the_list_needs() {
    let dir = tempfile::tempdir().expect("folder");
    {
        let db = Connection::open(dir.path().join("swarfbook.db")).expect("made");
        for sql in [
            include_str!("../src/sqlite/migrations/0001.sql"),
            include_str!("../src/sqlite/migrations/0002.sql"),
        ] {
            db.execute_batch(sql).expect("made");
        }
        let line = Entry {
            id: EntryId(Uuid::from_u128(5)),
            job: job(1),
            device: DeviceId(Uuid::from_u128(3)),
            seq: 1,
            wall: at(0),
            hlc: Hlc::default(),
            prev: Sha256Hex::ZERO,
            body: Fact::CarNoted {
                car: car("\tSB 101 ", Some("VIN1")),
            }
            .into(),
        };
        let line = line.seal().expect("sealed");
        db.execute(
            "INSERT INTO entry (id, job, device, seq, hash, bytes) VALUES (?1, ?2, ?3, 1, ?4, ?5)",
            [
                line.entry.id.to_string(),
                line.entry.job.to_string(),
                line.entry.device.to_string(),
                line.hash.to_string(),
                line.bytes,
            ],
        )
        .expect("written");
        db.execute(
            "INSERT INTO job_line (job, touched, stale, line, search) VALUES (?1, ?2, 0, 'a', 'b')",
            [job(1).to_string(), at(0).to_utc().to_rfc3339()],
        )
        .expect("written");
        db.pragma_update(None, "user_version", 2).expect("set");
    }
    let store = open(dir.path());
    assert_eq!(found(&store, ""), [job(1)]);
    assert_eq!(store.stale_jobs().expect("reads"), [job(1)]);
    assert_eq!(store.unsigned(job(1)).expect("reads").len(), 1);
    for named in [car("sb 101", None), car("", Some("vin1"))] {
        assert_eq!(store.jobs_of_car(&named, 50).expect("reads"), [job(1)]);
    }
}

#[test]
fn the_head_of_a_job_tells_what_came_in_since() {
    let dir = tempfile::tempdir().expect("folder");
    let store = open(dir.path());
    assert_eq!(store.job_head(job(1)).expect("reads"), None);
    let line = |minute| noted(job(1), car("SB 101", None), minute);
    store.append(&[line(0), line(1)]).expect("written");
    let head = store.job_head(job(1)).expect("reads").expect("a head");
    assert_eq!(head.lines, 2);
    let since = |store: &Store| store.entries_behind(job(1), &head).expect("reads");
    assert_eq!(since(&store), Some(vec![]));
    store
        .append(&[noted(job(2), car("SB 102", None), 2), line(3)])
        .expect("written");
    let all = store.entries(job(1)).expect("reads");
    assert_eq!(since(&store).as_deref(), all.get(2..));
    // A head of lines that were never committed is none of this job's.
    let undone = store.together(|store| {
        store.append(&[line(4)])?;
        Err::<(), _>(swarfbook_store::StoreError::Full)
    });
    assert!(undone.is_err());
    let before = store.job_head(job(1)).expect("reads").expect("a head");
    let mut never = before;
    never.lines += 1;
    never.last = EntryId(Uuid::from_u128(9));
    store.append(&[line(4)]).expect("written");
    assert_eq!(store.entries_behind(job(1), &never).expect("reads"), None);
    assert_ne!(store.job_head(job(1)).expect("reads"), Some(never));
}

/// What the list is found by holds each word of the search somewhere, as text.
fn holds(words: &str, search: &str) -> bool {
    let (words, search) = (words.to_lowercase(), search.to_lowercase());
    search.split_whitespace().all(|word| words.contains(word))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn a_search_finds_what_holds_each_of_its_words(
        words in prop::collection::vec("[aAbäÄß\"'*^(%:-]{0,6} [aAb 1]{0,5}", 1..8),
        searches in prop::collection::vec("[aAbäÄß\"'*^(%:-]{0,4}( [aAb1]{0,4})?", 1..16),
    ) {
        let dir = tempfile::tempdir().expect("folder");
        let store = open(dir.path());
        let rows: Vec<_> = words
            .iter()
            .zip(1..)
            .map(|(words, number)| (job(number), String::new(), words.clone()))
            .collect();
        for (at, (job, _, _)) in rows.iter().enumerate() {
            let line = noted(*job, car("SB 1", None), at as u32);
            store.append(&[line]).expect("written");
        }
        store.refresh(&rows).expect("kept");
        // Made anew: what was found before is not found twice.
        store.refresh(&rows).expect("kept");
        for search in &searches {
            let wanted: Vec<_> = rows.iter().rev().filter(|row| holds(&row.2, search)).map(|row| row.0).collect();
            prop_assert_eq!(found(&store, search), wanted.clone(), "{}", search);
            // By pages too small for all, which a common word is looked for otherwise.
            for (skip, job) in wanted.iter().enumerate() {
                let page = store.jobs(search, skip as u32, 1).expect("reads");
                prop_assert_eq!(page.rows.first().map(|row| row.job), Some(*job), "{}", search);
            }
        }
    }
}
