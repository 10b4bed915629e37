//! A log as version 0.1 wrote it. Later versions must read it to the same state,
//! byte for byte and hash for hash; it is never written anew.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod common;

use swarfbook_job::entry::Sealed;
use swarfbook_job::fold::fold;
use swarfbook_job::id::Sha256Hex;

const LOG: &str = include_str!("fixtures/log-0.1.jsonl");

/// The kinds that came after it, by the first version that had them.
const SHARED: &str = include_str!("fixtures/log-0.1-shared.jsonl");

/// The hash of the fixture's last line: all lines before it are in its chain.
const HEAD: &str = include_str!("fixtures/log-0.1.head");

#[test]
fn the_log_of_version_0_1_is_still_read() {
    let mut prev = Sha256Hex::ZERO;
    let mut entries = Vec::new();
    for line in LOG.lines() {
        let sealed = Sealed::read(line).expect("reads");
        assert_eq!(sealed.entry.prev, prev, "the chain holds");
        assert!(sealed.entry.body.known().is_some(), "still known: {line}");
        // Writing it again gives the same bytes: no field is lost on the way.
        assert_eq!(sealed.entry.clone().seal().expect("seals").bytes, line);
        prev = sealed.hash;
        entries.push(sealed.entry);
    }
    assert_eq!(prev.to_string(), HEAD.trim());
    let state = fold(common::job(), &entries);
    assert_eq!(state.lines.len(), 30);
    assert_eq!(state.car.expect("a car").plate, "TEST 1");
    assert_eq!(
        state.components[0].readings[0].reading.samples,
        ["37.8", "OL"]
    );
    assert_eq!(
        state.photos[0]
            .census
            .as_ref()
            .expect("counted")
            .particles
            .len(),
        1
    );
    assert_eq!(
        state.decision.expect("decided").reason.as_deref(),
        Some("known since the last visit")
    );
}

/// Kinds that came after version 0.1.
const SINCE: [&str; 4] = [
    "photo_linked",
    "report_withdrawn",
    "step_settled",
    "written_in",
];

#[test]
fn the_kinds_that_came_later_are_still_read() {
    let mut entries = Vec::new();
    for line in SHARED.lines() {
        let sealed = Sealed::read(line).expect("reads");
        assert!(sealed.entry.body.known().is_some(), "still known: {line}");
        assert_eq!(sealed.entry.clone().seal().expect("seals").bytes, line);
        entries.push(sealed.entry);
    }
    let state = fold(common::job(), &entries);
    assert_eq!(state.shares.len(), 1);
    assert_eq!(state.answers[0].answer.text, "Can it wait?");
}

#[test]
fn every_kind_of_fact_is_in_the_fixtures() {
    let kinds = |lines: &[Sealed]| {
        let mut kinds: Vec<String> = lines
            .iter()
            .map(|l| {
                serde_json::to_value(&l.entry.body).expect("json")["fact"]
                    .as_str()
                    .expect("a kind")
                    .to_owned()
            })
            .collect();
        kinds.sort();
        kinds.dedup();
        kinds
    };
    let kept: Vec<Sealed> = LOG
        .lines()
        .chain(SHARED.lines())
        .map(|l| Sealed::read(l).expect("reads"))
        .collect();
    let mut then = kinds(&common::chain(3, 0, common::every_fact(3)));
    then.retain(|kind| !SINCE.contains(&kind.as_str()));
    assert_eq!(kinds(&kept), then);
}
