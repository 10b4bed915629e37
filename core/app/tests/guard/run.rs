//! One job of a seed, and the shortest that breaks a rule.

use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use super::action::Action;
use super::told::Asked;
use super::{Found, draw, play};

/// How often a failing job is tried shorter.
const TRIES: usize = 150;

/// What a seed's job came to.
pub struct Played {
    pub steps: usize,
    /// What the rules that are asked for say, in the job as it was drawn.
    pub found: Vec<Found>,
}

fn runner(seed: u64) -> TestRunner {
    let mut bytes = [0; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    TestRunner::new_with_rng(Config::default(), rng)
}

/// Plays the job of a seed.
pub fn seed(seed: u64, wanted: &dyn Fn(&Found) -> bool) -> Played {
    let tree = draw::job().new_tree(&mut runner(seed)).expect("drawn");
    let played = play(&tree.current(), Asked::of(seed));
    Played {
        steps: played.steps,
        found: played.found.into_iter().filter(|f| wanted(f)).collect(),
    }
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
