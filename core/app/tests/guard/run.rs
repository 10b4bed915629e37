//! Jobs by their seeds, and the shortest that breaks a rule.

use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::action::Action;
use super::told::Asked;
use super::{Found, Outcome, draw, play};

/// How often a failing job is tried shorter.
const TRIES: usize = 150;

fn runner(seed: u64) -> TestRunner {
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    TestRunner::new_with_rng(Config::default(), rng)
}

/// Plays the job of a seed.
fn seed(seed: u64) -> Outcome {
    let tree = draw::job().new_tree(&mut runner(seed)).expect("drawn");
    play(&tree.current(), Asked::of(seed))
}

/// How much was played.
#[derive(Debug, Clone, Copy)]
pub struct Amount {
    pub jobs: u64,
    pub lines: u64,
}

/// Plays the jobs of the seeds from `first` on, on every core, until `enough` of them were played or `look`, which
/// is given each seed with what was found in its job, breaks off.
pub fn many(
    first: u64,
    enough: &(dyn Fn(Amount) -> bool + Sync),
    look: &(dyn Fn(u64, Vec<Found>) -> ControlFlow<()> + Sync),
) -> Amount {
    let (jobs, lines) = (AtomicU64::new(0), AtomicU64::new(0));
    let stopped = AtomicBool::new(false);
    let so_far = || Amount {
        jobs: jobs.load(Ordering::Relaxed),
        lines: lines.load(Ordering::Relaxed),
    };
    let work = || {
        while !enough(so_far()) && !stopped.load(Ordering::Relaxed) {
            let seed = first + jobs.fetch_add(1, Ordering::Relaxed);
            let played = self::seed(seed);
            lines.fetch_add(played.steps as u64, Ordering::Relaxed);
            if look(seed, played.found).is_break() {
                stopped.store(true, Ordering::Relaxed);
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(work);
        }
    });
    so_far()
}

/// The shortest part of a seed's job that breaks a rule, and what it says then.
pub fn shortest(seed: u64, rule: &str) -> Option<(Vec<Action>, Found)> {
    let mut tree = draw::job().new_tree(&mut runner(seed)).expect("drawn");
    let breaks = |actions: &[Action]| {
        let found = play(actions, Asked::of(seed)).found;
        found.into_iter().find(|found| found.rule == rule)
    };
    let mut best = (tree.current(), breaks(&tree.current())?);
    let mut smaller = tree.simplify();
    for _ in 0..TRIES {
        if !smaller {
            break;
        }
        let actions = tree.current();
        smaller = match breaks(&actions) {
            Some(found) => {
                best = (actions, found);
                tree.simplify()
            }
            None => tree.complicate(),
        };
    }
    Some(best)
}
