//! A line dated far ahead is kept and waits.
#![allow(clippy::expect_used)] // helpers of tests are outside of them

use chrono::{DateTime, Duration, FixedOffset};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{CustomerId, JobId};
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

/// The names of one customer at two stores, each changed once and then exchanged.
fn exchanged(theirs_at: DateTime<FixedOffset>, ours_at: DateTime<FixedOffset>) -> Vec<String> {
    let (there, here) = (
        tempfile::tempdir().expect("folder"),
        tempfile::tempdir().expect("folder"),
    );
    let (other, here) = (
        Store::open(there.path()).expect("opens"),
        Store::open(here.path()).expect("opens"),
    );
    let id = CustomerId(Uuid::from_u128(3));
    let today = millis(day("2026-03-02T08:00:00Z"));
    other
        .save_customer(id, "theirs", "", theirs_at)
        .expect("kept");
    here.save_customer(id, "ours", "", ours_at).expect("kept");
    let all = other.customers().expect("reads");
    let wait = here.merge_customers(&all, today).expect("taken in");
    let name = |store: &Store| store.customer(id).expect("reads").expect("there").name;
    let told = if wait.is_empty() { "counts" } else { "waits" };
    let mut names = vec![told.to_owned(), name(&here)];
    // What is corrected here counts, whatever stands here; and there, once it is exchanged.
    here.save_customer(id, "corrected", "", day("2026-03-02T09:00:00Z"))
        .expect("kept");
    names.push(name(&here));
    let all = here.customers().expect("reads");
    other.merge_customers(&all, today).expect("taken in");
    names.push(name(&other));
    names
}

#[test]
fn a_customer_dated_more_than_a_day_ahead_waits_too() {
    let (before, today) = (day("2026-03-01T08:00:00Z"), day("2026-03-02T08:00:00Z"));
    let then = day("9999-12-31T00:00:00Z");
    for (theirs, ours, said) in [
        (today, before, ["counts", "theirs"]),
        (then, before, ["waits", "ours"]),
        // One that came in before there was this rule stands no longer in the way.
        (today, then, ["counts", "theirs"]),
        (then, then, ["counts", "corrected"]),
    ] {
        let names = exchanged(theirs, ours);
        assert_eq!(names[0], said[0], "{names:?}");
        if theirs != ours {
            assert_eq!(names[1], said[1], "{names:?}");
        }
        assert_eq!(
            names[2..],
            ["corrected", "corrected"],
            "{theirs} and {ours}"
        );
    }
    // One that nobody knows under another name is taken in as it is.
    let dir = tempfile::tempdir().expect("folder");
    let here = Store::open(dir.path()).expect("opens");
    let id = CustomerId(Uuid::from_u128(3));
    here.save_customer(id, "far ahead", "", then).expect("kept");
    let all = here.customers().expect("reads");
    let fresh = tempfile::tempdir().expect("folder");
    let fresh = Store::open(fresh.path()).expect("opens");
    let wait = fresh
        .merge_customers(&all, millis(today))
        .expect("taken in");
    assert!(wait.is_empty() && fresh.customers().expect("reads") == all);
}
