//! The guard of every job (`tests/guard`) for as long as is wanted, on every core:
//! `cargo run --release -p swarfbook-app --example guard -- LINES SEED [RULE]`.
//! Prints for each rule that does not hold a seed, the shortest job and the sentence.
#![allow(clippy::expect_used)] // a check stops by panicking

#[path = "../tests/guard/mod.rs"]
mod guard;

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::sync::Mutex;
use std::time::Instant;

/// Lines after which it prints how far it is.
const PRINTED_EVERY: u64 = 25_000;

/// By rule and place: how often, and the first seed.
type Broken<'a> = BTreeMap<(&'a str, String), (u64, u64)>;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let mut number = |usual: u64| {
        let given = arguments.next();
        given.and_then(|n| n.parse().ok()).unwrap_or(usual)
    };
    let (lines, first) = (number(10_000), number(0));
    let rule = arguments.next().unwrap_or_default();
    let begun = Instant::now();
    let printed = Mutex::new(0);
    let broken: Mutex<Broken<'_>> = Mutex::default();
    let enough = |played: guard::run::Amount| {
        let mut printed = printed.lock().expect("no thread panics");
        if played.lines >= *printed + PRINTED_EVERY {
            *printed = played.lines;
            println!("{played:?}, {:.0?}", begun.elapsed());
        }
        played.lines >= lines
    };
    let played = guard::run::many(first, &enough, &|seed, found| {
        for found in found.into_iter().filter(|f| f.rule.starts_with(&rule)) {
            let mut broken = broken.lock().expect("no thread panics");
            let first = !broken.keys().any(|(rule, _)| *rule == found.rule);
            let place = kind_of(&found.place);
            let known = broken.entry((found.rule, place)).or_insert((seed, 0));
            known.1 += 1;
            let again = known.1 > 1;
            drop(broken);
            if first && let Some((job, found)) = guard::run::shortest(seed, found.rule) {
                println!("{found}\nseed {seed}, the shortest job that says it:\n{job:?}\n");
            } else if !again {
                println!("{found}\nseed {seed}\n");
            }
        }
        ControlFlow::Continue(())
    });
    println!("{played:?}, {:.0?}", begun.elapsed());
    let broken = broken.into_inner().expect("no thread panics");
    for ((rule, place), (seed, times)) in &broken {
        println!("rule {rule} at {place}: {times} times, first in seed {seed}");
    }
    if !broken.is_empty() {
        std::process::exit(1);
    }
}

/// A place without the numbers in it.
fn kind_of(place: &str) -> String {
    let id = |part: &str| part.len() == 36 || part.parse::<usize>().is_ok();
    let parts = place.split('/').filter(|part| !id(part));
    parts.collect::<Vec<_>>().join("/")
}
