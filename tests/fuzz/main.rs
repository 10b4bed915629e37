//! Every parser of foreign bytes under bytes that were changed at random: first each file of
//! its corpus as it is, then changed ones for `FUZZ_SECONDS` (three). What fails is made as
//! short as can be and kept in `target/fuzz`; mended, it goes into the corpus.
//!
//! It runs on a stable compiler and is blind to coverage: it finds what lies near true input.
//! `make fuzz` runs it for longer and from another seed; `FUZZ_SEED` gives one.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod change;
mod exchange;
mod kept;
mod reads;

use std::cell::Cell;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use proptest::test_runner::{Config, RngAlgorithm, TestError, TestRng, TestRunner};
use swarfbook_job::id::Sha256Hex;

/// Longer than any input may take, on a machine that has other work too.
const SLOW: Duration = Duration::from_secs(60);

/// Cases between two looks at the clock.
const AT_ONCE: u32 = 8;

/// Runs `parser` over the corpus of `target`, changed at random.
pub fn hammer(target: &str, parser: impl Fn(&[u8])) {
    let corpus = corpus(target);
    hammer_over(target, &corpus, parser);
}

/// The same over inputs that are kept elsewhere.
pub fn hammer_over(target: &str, corpus: &[Vec<u8>], parser: impl Fn(&[u8])) {
    assert!(!corpus.is_empty(), "{target} has no corpus");
    let runs = Cell::new(0_u64);
    let timed = |bytes: &[u8]| {
        let began = Instant::now();
        parser(bytes);
        assert!(began.elapsed() < SLOW, "it took {:?}", began.elapsed());
        runs.set(runs.get() + 1);
    };
    corpus.iter().for_each(|bytes| timed(bytes));
    let seconds = Duration::from_secs(number("FUZZ_SECONDS").unwrap_or(3));
    let seed = number("FUZZ_SEED").unwrap_or(1);
    let began = Instant::now();
    let mut round = 0_u64;
    while began.elapsed() < seconds {
        round += 1;
        let config = Config {
            cases: AT_ONCE,
            failure_persistence: None,
            ..Config::default()
        };
        let begins = Sha256Hex::of(format!("{target} {seed} {round}").as_bytes()).to_string();
        let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &begins.as_bytes()[..32]);
        let ran = TestRunner::new_with_rng(config, rng).run(&change::changed(corpus), |bytes| {
            timed(&bytes);
            Ok(())
        });
        match ran {
            Ok(()) => {}
            Err(TestError::Fail(why, bytes)) => panic!("{}", keep(target, &bytes, &why)),
            Err(why) => panic!("{target}: {why}"),
        }
    }
    println!(
        "{target}: {} runs in {:.0} s over {} inputs, seed {seed}",
        runs.get(),
        began.elapsed().as_secs_f64(),
        corpus.len()
    );
}

fn keep(target: &str, bytes: &[u8], why: &dyn std::fmt::Display) -> String {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/fuzz");
    let file = dir.join(format!("{target}-{}", Sha256Hex::of(bytes)));
    let kept = fs::create_dir_all(&dir).and_then(|()| fs::write(&file, bytes));
    let at = file.display();
    format!(
        "{target}: {why}\nthe {} bytes are in {at} ({kept:?})",
        bytes.len()
    )
}

/// The files of a target, by name.
fn corpus(target: &str) -> Vec<Vec<u8>> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("fuzz/corpus");
    let files = fs::read_dir(dir.join(target)).expect("a corpus");
    let mut files: Vec<_> = files.map(|file| file.expect("reads").path()).collect();
    files.sort();
    let read = files.into_iter().map(|file| fs::read(file).expect("reads"));
    read.collect()
}

fn number(name: &str) -> Option<u64> {
    let text = std::env::var(name).ok()?;
    Some(
        text.parse()
            .unwrap_or_else(|_| panic!("{name} is a number, not {text:?}")),
    )
}
