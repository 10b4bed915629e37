//! Whole jobs of every kind, 2,000 of them, and what must hold for each; see `guard`.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod guard;

use std::ops::ControlFlow;
use std::sync::Mutex;

/// How many jobs.
const JOBS: u64 = 2_000;

#[test]
fn nothing_that_is_told_speaks_against_the_log() {
    let jobs = std::env::var("GUARD_JOBS")
        .ok()
        .and_then(|n| n.parse().ok());
    let jobs = jobs.unwrap_or(JOBS);
    let first_found = Mutex::new(None);
    let played = guard::run::many(0, &|played| played.jobs >= jobs, &|seed, found| {
        let Some(found) = found.into_iter().next() else {
            return ControlFlow::Continue(());
        };
        first_found
            .lock()
            .expect("no thread panics")
            .get_or_insert((seed, found));
        ControlFlow::Break(())
    });
    if let Some((seed, found)) = first_found.into_inner().expect("no thread panics") {
        let (job, found) = guard::run::shortest(seed, found.rule)
            .unwrap_or_else(|| panic!("seed {seed}: {found}, but not a second time"));
        panic!("{found}\nseed {seed}, the shortest job that says it:\n{job:#?}");
    }
    println!("{} jobs, {} lines", played.jobs, played.lines);
    assert!(
        played.jobs >= jobs && played.lines > 5 * jobs,
        "only {played:?}"
    );
}
