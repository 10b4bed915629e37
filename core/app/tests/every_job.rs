//! Whole jobs of every kind, 2,000 of them, and what must hold for each; see `guard`.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod guard;

use std::sync::atomic::{AtomicBool, Ordering};

/// How many jobs.
const JOBS: u64 = 2_000;

#[test]
fn nothing_that_is_told_speaks_against_the_log() {
    let jobs = std::env::var("GUARD_JOBS")
        .ok()
        .and_then(|n| n.parse().ok());
    let jobs = jobs.unwrap_or(JOBS);
    let threads = std::thread::available_parallelism().map_or(1, |n| n.get() as u64);
    let stop = AtomicBool::new(false);
    // Each thread takes every so many-th seed and ends at its first finding.
    let play = |first: u64| {
        let mut steps = 0;
        for seed in (first..jobs).step_by(threads as usize) {
            if stop.load(Ordering::Relaxed) {
                break;
            }
            let played = guard::run::seed(seed, &|_| true);
            steps += played.steps;
            if let Some(found) = played.found.into_iter().next() {
                stop.store(true, Ordering::Relaxed);
                return (steps, Some((seed, found)));
            }
        }
        (steps, None)
    };
    let played: Vec<_> = std::thread::scope(|scope| {
        let play = &play;
        let threads: Vec<_> = (0..threads).map(|n| scope.spawn(move || play(n))).collect();
        threads
            .into_iter()
            .map(|t| t.join().expect("ends"))
            .collect()
    });
    let steps: usize = played.iter().map(|(steps, _)| steps).sum();
    if let Some((seed, found)) = played.into_iter().find_map(|(_, found)| found) {
        let (job, found) = guard::run::shortest(seed, found.rule)
            .unwrap_or_else(|| panic!("seed {seed}: {found}, but not a second time"));
        panic!("{found}\nseed {seed}, the shortest job that says it:\n{job:#?}");
    }
    println!("{jobs} jobs, {steps} lines");
    assert!(steps as u64 > 5 * jobs, "only {steps} lines in {jobs} jobs");
}
