//! Whole jobs of every kind, 2,000 of them, and what must hold for each; see `guard`.
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // a test stops by panicking

mod guard;

/// How many jobs.
const JOBS: u64 = 2_000;

#[test]
fn nothing_that_is_told_speaks_against_the_log() {
    let jobs = std::env::var("GUARD_JOBS")
        .ok()
        .and_then(|n| n.parse().ok());
    let jobs = jobs.unwrap_or(JOBS);
    let held = |found: &guard::Found| !guard::NOT_YET.contains(&found.rule);
    let mut steps = 0;
    for seed in 0..jobs {
        let played = guard::run::seed(seed, &held);
        steps += played.steps;
        if let Some(found) = played.found.first() {
            let (job, found) = guard::run::shortest(seed, found.rule)
                .unwrap_or_else(|| panic!("seed {seed}: {found}, but not a second time"));
            panic!("{found}\nseed {seed}, the shortest job that says it:\n{job:#?}");
        }
    }
    println!("{jobs} jobs, {steps} lines");
    assert!(steps as u64 > 5 * jobs, "only {steps} lines in {jobs} jobs");
}
