//! A log as version 0.1 wrote it. Later versions must read it to the same state,
//! byte for byte and hash for hash; it is never written anew.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod common;

use std::collections::BTreeSet;

use serde_json::Value;
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

/// Lines with what came after those: kinds, and fields of kinds that were there. `UPDATE=1`
/// adds the lines that bring something new; those that are there stay as they are.
const SINCE: &str = include_str!("fixtures/log-since.jsonl");

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
fn what_came_since_is_still_read() {
    let mut entries = Vec::new();
    for line in SINCE.lines() {
        let sealed = Sealed::read(line).expect("reads");
        assert!(sealed.entry.body.known().is_some(), "still known: {line}");
        assert_eq!(sealed.entry.clone().seal().expect("seals").bytes, line);
        entries.push(sealed.entry);
    }
    // Some name lines that are not here: the fold passes over those.
    let state = fold(common::job(), &entries);
    assert_eq!(state.lines.len(), entries.len());
}

/// Whoever adds a kind of line, or a field to one, keeps a line that has it.
#[test]
fn every_field_of_every_kind_of_line_is_in_the_fixtures() {
    let mut kept = BTreeSet::new();
    for line in [LOG, SHARED, SINCE].iter().flat_map(|log| log.lines()) {
        kept.extend(fields(line));
    }
    let mut new = String::new();
    let mut lacking = BTreeSet::new();
    for line in common::chain(3, 0, common::every_fact(3)) {
        let lacks: Vec<_> = fields(&line.bytes).difference(&kept).cloned().collect();
        if !lacks.is_empty() {
            new += &format!("{}\n", line.bytes);
            kept.extend(lacks.iter().cloned());
            lacking.extend(lacks);
        }
    }
    if std::env::var_os("UPDATE").is_some() {
        let path = concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/fixtures/log-since.jsonl"
        );
        std::fs::write(path, format!("{SINCE}{new}")).expect("written");
        return;
    }
    assert!(lacking.is_empty(), "in no kept line: {lacking:#?}");
}

/// The names of all fields of a line, each with the kind of line and where in it it stands.
fn fields(line: &str) -> BTreeSet<String> {
    let value: Value = serde_json::from_str(line).expect("JSON");
    let mut fields = BTreeSet::new();
    let kind = value["body"]["fact"].as_str().expect("a kind");
    collect(&value, kind, &mut fields);
    fields
}

fn collect(value: &Value, at: &str, fields: &mut BTreeSet<String>) {
    match value {
        Value::Object(object) => object
            .iter()
            .for_each(|(name, value)| collect(value, &format!("{at}.{name}"), fields)),
        Value::Array(all) => all.iter().for_each(|value| collect(value, at, fields)),
        _ => drop(fields.insert(at.to_owned())),
    }
}
