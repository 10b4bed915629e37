//! A line dated far ahead is kept and waits.
#![allow(clippy::expect_used)] // helpers of tests are outside of them

use chrono::{DateTime, Duration, FixedOffset};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;
use swarfbook_store::{NewEntry, Store};
use uuid::Uuid;

fn job() -> JobId {
    JobId(Uuid::from_u128(7))
}

fn day(text: &str) -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339(text).expect("a time")
}

fn noted(text: &str, now: DateTime<FixedOffset>) -> NewEntry {
    NewEntry {
        job: job(),
        fact: Fact::Noted {
            step: "look".into(),
            topic: None,
            text: text.into(),
            private: false,
        },
        now,
    }
}

fn millis(at: DateTime<FixedOffset>) -> u64 {
    u64::try_from(at.timestamp_millis()).expect("after 1970")
}

fn counted(store: &Store) -> usize {
    store.entries(job()).expect("reads").len()
}

fn touched(store: &Store) -> Option<String> {
    let page = store.jobs("", 0, 10).expect("lists");
    page.rows.first().map(|row| row.touched.to_rfc3339())
}

/// A line from the year 9999 would win over every later correction, and stand first in the
/// list of jobs for ever.
#[test]
fn a_line_dated_more_than_a_day_ahead_is_kept_and_waits() {
    let (theirs, ours) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let (today, then) = (day("2026-03-02T08:00:00Z"), day("9999-12-31T00:00:00Z"));
    let other = Store::open(theirs.path()).expect("opens");
    for (text, at) in [
        ("now", today),
        ("in an hour", today + Duration::hours(1)),
        ("far ahead", then),
    ] {
        other.append(&[noted(text, at)]).expect("written");
    }
    let lines = other
        .entries_after(other.device(), 0, usize::MAX)
        .expect("reads");
    let here = Store::open(ours.path()).expect("opens");
    here.import(&lines, millis(today)).expect("taken in");
    assert_eq!((counted(&here), here.waiting().ok()), (2, Some(1)));
    assert_eq!(touched(&here).as_deref(), Some("2026-03-02T09:00:00+00:00"));
    assert_eq!(
        here.entries_after(other.device(), 0, usize::MAX).ok(),
        Some(lines.clone()),
        "kept and passed on"
    );
    let head = here.job_head(job()).expect("reads").expect("there");
    assert_eq!((head.lines, head.last), (2, lines[1].entry.id));
    // It survives a restart, and what comes after it counts.
    drop(here);
    let here = Store::open(ours.path()).expect("opens");
    here.append(&[noted("mine", today + Duration::hours(2))])
        .expect("written");
    assert_eq!(counted(&here), 3);
    let more = here.entries_behind(job(), &head).expect("reads");
    assert_eq!(more.map(|lines| lines.len()), Some(1));
    let head = here.job_head(job()).expect("reads").expect("there");
    // It counts once its time is near; whoever kept the fold until then must read anew.
    here.import(&[], millis(then - Duration::hours(23)))
        .expect("nothing to take in");
    assert_eq!((counted(&here), here.waiting().ok()), (4, Some(0)));
    assert_ne!(here.job_head(job()).expect("reads"), Some(head));
    assert_eq!(here.entries_behind(job(), &head).expect("reads"), None);
}

#[test]
fn what_one_writes_oneself_counts_whatever_the_clock_says() {
    let dir = tempfile::tempdir().expect("folder");
    let here = Store::open(dir.path()).expect("opens");
    here.append(&[noted("mine", day("9999-12-31T00:00:00Z"))])
        .expect("written");
    assert_eq!((counted(&here), here.waiting().ok()), (1, Some(0)));
}

/// A job of which every line waits is no job yet.
#[test]
fn a_job_of_lines_that_wait_is_not_in_the_list() {
    let (theirs, ours) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let other = Store::open(theirs.path()).expect("opens");
    let lines = other
        .append(&[noted("far ahead", day("9999-12-31T00:00:00Z"))])
        .expect("written");
    let here = Store::open(ours.path()).expect("opens");
    here.import(&lines, millis(day("2026-03-02T08:00:00Z")))
        .expect("taken in");
    assert_eq!((counted(&here), touched(&here)), (0, None));
    assert_eq!(here.job_head(job()).expect("reads"), None);
}

/// Years ahead of any clock that reads this.
const FAR: &str = "9999-12-31T00:00:00Z";

/// What is saved of a damaged database goes by the same rule as the database did.
#[test]
fn a_line_dated_far_ahead_waits_in_what_is_saved_of_a_damaged_store_too() {
    let (theirs, ours) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let today = day("2026-03-02T08:00:00Z");
    let other = Store::open(theirs.path()).expect("opens");
    let mut lines = other.append(&[noted("now", today)]).expect("written");
    lines.extend(
        other
            .append(&[noted("far ahead", day(FAR))])
            .expect("written"),
    );
    let here = Store::open(ours.path()).expect("opens");
    here.import(&lines, millis(today)).expect("taken in");
    drop(here);
    std::fs::remove_file(ours.path().join("swarfbook.head")).expect("removed");
    let saved = Store::open(ours.path()).expect("opens to read");
    assert!(saved.read_only().is_some());
    assert_eq!((counted(&saved), saved.waiting().ok()), (1, Some(1)));
    assert_eq!(
        touched(&saved).as_deref(),
        Some("2026-03-02T08:00:00+00:00")
    );
    // What the device wrote itself counts, as it did.
    std::fs::remove_file(theirs.path().join("swarfbook.head")).expect("removed");
    drop(other);
    let saved = Store::open(theirs.path()).expect("opens to read");
    assert!(saved.read_only().is_some());
    assert_eq!((counted(&saved), saved.waiting().ok()), (2, Some(0)));
}
