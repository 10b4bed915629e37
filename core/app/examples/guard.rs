//! The guard of every job (`tests/guard`) for as long as is wanted:
//! `cargo run --release -p swarfbook-app --example guard -- STEPS SEED [RULE]`.
//! Prints for each rule that does not hold the first seed, the shortest job and the sentence.

#[path = "../tests/guard/mod.rs"]
mod guard;

use std::collections::BTreeMap;
use std::time::Instant;

fn main() {
    let mut arguments = std::env::args().skip(1);
    let mut number = |usual: u64| {
        let given = arguments.next();
        given.and_then(|n| n.parse().ok()).unwrap_or(usual)
    };
    let (steps, first) = (number(10_000), number(0));
    let rule = std::env::args().nth(3);
    let wanted = |found: &guard::Found| {
        rule.as_ref()
            .is_none_or(|rule| found.rule.starts_with(rule.as_str()))
    };
    let begun = Instant::now();
    let (mut done, mut jobs) = (0_u64, 0_u64);
    let mut broken: BTreeMap<(&str, String), (u64, u64)> = BTreeMap::new();
    while done < steps {
        let seed = first + jobs;
        let played = guard::run::seed(seed, &wanted);
        for found in played.found {
            let first = !broken.keys().any(|(rule, _)| *rule == found.rule);
            let place = kind_of(&found.place);
            let known = broken.entry((found.rule, place)).or_insert((seed, 0));
            known.1 += 1;
            if first && let Some((job, found)) = guard::run::shortest(seed, found.rule) {
                println!("{found}\nseed {seed}, the shortest job that says it:\n{job:?}\n");
            } else if known.1 == 1 {
                println!("{found}\nseed {seed}\n");
            }
        }
        done += played.steps as u64;
        jobs += 1;
        if jobs % 1000 == 0 {
            println!("{jobs} jobs, {done} lines, {:.0?}", begun.elapsed());
        }
    }
    println!("{jobs} jobs, {done} lines, {:.0?}", begun.elapsed());
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
