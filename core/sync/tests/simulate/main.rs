//! Exchanges by simulation: 2 to 5 phones and a hub over real stores, with the real client and
//! the real hub's side. What happens to them follows from a seed: writing, exchanges that are
//! cut at any byte, messages that come late, twice or out of order, clocks a day off, starts
//! and kills, full disks, a phone that lies, a liar in the hub's place. In the end all must be
//! the same everywhere, and nothing that somebody was told is kept may be gone.
//!
//! `SEED=7` runs one schedule and tells what happens in it; `SCHEDULES=10000` runs more.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod check;
mod device;
mod dice;
mod liar;
mod network;
mod world;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::{Language, sentences};
use world::World;

/// Run in `make test`.
const SCHEDULES: u64 = 300;

/// Set in the process that runs on the simulated machine.
const INSIDE: &str = "SIMULATED_MACHINE";

/// All of these must have happened, or the simulator shows less than it says.
const MUST_HAPPEN: [&str; 19] = [
    "exchanges that went through",
    "exchanges that were cut",
    "requests cut",
    "answers cut",
    network::CHANGED,
    "messages that came twice",
    "messages that came late",
    "messages done again after a restart",
    "exchanges refused for a wrong clock",
    "exchanges refused by a full hub",
    "exchanges ended by a full phone",
    "lines refused for want of room",
    "photos refused for want of room",
    "restarts",
    "kills",
    "starts without room",
    "lies",
    "lines brought by another",
    "lines that waited",
];

#[test]
fn whatever_happens_all_end_in_the_same_state() {
    if std::env::var_os(INSIDE).is_none() {
        return on_the_simulated_machine("whatever_happens_all_end_in_the_same_state");
    }
    if let Some(seed) = number("SEED") {
        run(seed, true).unwrap_or_else(|why| panic!("seed {seed}: {why}"));
        return;
    }
    let (first, many) = (number("FIRST").unwrap_or(1), number("SCHEDULES"));
    let many = many.unwrap_or(SCHEDULES);
    let next = AtomicU64::new(first);
    let counts: Mutex<BTreeMap<&str, u64>> = Mutex::default();
    let failed: Mutex<Vec<String>> = Mutex::default();
    let began = std::time::Instant::now();
    thread::scope(|scope| {
        for _ in 0..thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                loop {
                    let seed = next.fetch_add(1, Ordering::Relaxed);
                    if seed >= first + many || failed.lock().expect("whole").len() >= 5 {
                        break;
                    }
                    match run(seed, false) {
                        Ok(done) => {
                            let mut counts = counts.lock().expect("whole");
                            for (what, n) in done.counts {
                                *counts.entry(what).or_default() += n;
                            }
                        }
                        Err(why) => {
                            let words = format!("SEED={seed} replays it. {why}");
                            println!("{words}");
                            failed.lock().expect("whole").push(words);
                        }
                    }
                }
            });
        }
    });
    let failed = failed.into_inner().expect("whole");
    assert!(failed.is_empty(), "{}", failed.join("\n"));
    let counts = counts.into_inner().expect("whole");
    let took = began.elapsed().as_secs_f64();
    println!("{many} schedules from seed {first} on in {took:.0} s: {counts:#?}");
    if many >= SCHEDULES {
        for what in MUST_HAPPEN {
            assert!(counts.contains_key(what), "never happened: {what}");
        }
    }
}

/// A failing seed is of no use where it fails no second time.
#[test]
fn a_seed_is_one_schedule() {
    if std::env::var_os(INSIDE).is_none() {
        return on_the_simulated_machine("a_seed_is_one_schedule");
    }
    for seed in 900_001..900_006 {
        let [first, again] = [(); 2].map(|()| run(seed, false).expect("runs"));
        assert_eq!(first.told, again.told, "seed {seed}");
        assert_ne!(first.told, run(seed + 100, false).expect("runs").told);
    }
}

struct Done {
    counts: BTreeMap<&'static str, u64>,
    /// Digest of all that happened.
    told: Sha256Hex,
}

/// One schedule, in a thread of its own: its name is where random numbers begin.
fn run(seed: u64, aloud: bool) -> Result<Done, String> {
    // What is read once a program would draw its random numbers in the first schedule alone.
    for language in Language::ALL {
        assert!(sentences(language).next().is_some());
    }
    let thread = thread::Builder::new().name(format!("s{seed}"));
    let running = thread.spawn(move || {
        let root = tempfile::tempdir_in(in_memory()).expect("folder");
        let world = World::new(seed, root.path(), aloud);
        for _ in 0..world.dice.within(15..60) {
            world.step();
        }
        world.settle();
        world.all_is_well();
        Done {
            told: Sha256Hex::of(world.told.take().join("\n").as_bytes()),
            counts: world.counts.take(),
        }
    });
    running.expect("starts").join().map_err(|panic| {
        let words = panic.downcast_ref::<String>().cloned();
        words.unwrap_or_else(|| (*panic.downcast_ref::<&str>().unwrap_or(&"?")).to_owned())
    })
}

/// A cut of the power is not simulated here, so that nothing need reach a disk.
fn in_memory() -> PathBuf {
    let shared = Path::new("/dev/shm");
    match shared.is_dir() {
        true => shared.to_owned(),
        false => std::env::temp_dir(),
    }
}

fn number(name: &str) -> Option<u64> {
    let text = std::env::var(name).ok()?;
    Some(
        text.parse()
            .unwrap_or_else(|_| panic!("{name} is a number, not {text:?}")),
    )
}

/// Runs the test again, with the C library's writing and random numbers replaced.
fn on_the_simulated_machine(test: &str) {
    let dir = tempfile::tempdir().expect("folder");
    let machine = dir.path().join("machine.so");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/simulate/machine.c");
    let built = Command::new("cc")
        .args(["-shared", "-fPIC", "-O1", "-o"])
        .args([&machine, &source])
        .arg("-ldl")
        .status()
        .expect("a C compiler is there: SQLite is built by it");
    assert!(built.success());
    let here = std::env::current_exe().expect("a program");
    let ran = Command::new(here)
        .args([test, "--exact", "--nocapture"])
        .env("LD_PRELOAD", &machine)
        .env(INSIDE, "1")
        .output()
        .expect("runs");
    let said = String::from_utf8_lossy(&ran.stdout);
    println!("{said}");
    assert!(
        ran.status.success() && said.contains("1 passed"),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
}
