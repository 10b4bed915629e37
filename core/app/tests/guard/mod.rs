//! The guard: whole jobs of every kind, drawn by a seed and written through the door, and
//! all that a person is then told held against rules that must hold for every job.
//!
//! - [`action`]: what can be done; each is read against the job as it stands, so that any
//!   part of a list of them is a job too, and a failing one shrinks.
//! - [`draw`]: lists of them.
//! - [`shop`]: devices, clocks and what was written, as the rules need to know it.
//! - [`told`]: everything that is said of the job at the end, with its place.
//! - [`rules`]: a file each.
#![allow(dead_code)] // the test and the long run use each a part of it
#![allow(clippy::expect_used, clippy::panic, clippy::unwrap_used)] // helpers of tests, too

pub mod action;
#[path = "../carried/mod.rs"]
mod carried;
pub mod census;
pub mod draw;
pub mod rules;
pub mod run;
pub mod shop;
pub mod told;
pub mod typed;
pub mod usual;

use std::fmt;

use action::Action;

/// A sentence that a rule does not allow.
#[derive(Debug, Clone)]
pub struct Found {
    /// The rule, by the number and a word.
    pub rule: &'static str,
    /// Where it is said.
    pub place: String,
    /// What is said there.
    pub sentence: String,
    /// What speaks against it.
    pub why: String,
}

impl fmt::Display for Found {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sentence: String = self.sentence.chars().take(300).collect();
        write!(
            f,
            "rule {}: {}: \"{}\": {}",
            self.rule, self.place, sentence, self.why
        )
    }
}

/// What came of one job.
pub struct Outcome {
    /// How many lines were written.
    pub steps: usize,
    /// What the rules say against what was told.
    pub found: Vec<Found>,
}

/// Does all of it in a shop of its own and reads what is told at the end.
pub fn play(actions: &[Action], asked: told::Asked) -> Outcome {
    let mut shop = shop::Shop::new();
    for action in actions {
        shop.act(action);
    }
    let told = told::Told::of(&mut shop, asked);
    let mut found = shop.found.clone();
    found.extend(rules::all(&shop, &told));
    Outcome {
        steps: shop.steps,
        found,
    }
}
