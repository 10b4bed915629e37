//! Time and peak memory of the census, as the command line runs it: the
//! photo's decoding alone, the reading after it, and what the program held at most.

#![allow(clippy::expect_used, missing_docs)]

mod common;

use std::fs::File;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use serde_json::Value;

const RUNS: usize = 5;

fn main() {
    let dir = tempfile::tempdir().expect("folder");
    println!("census, one thread: the best of {RUNS} runs, the most memory of all");
    println!(
        "{:>9}  {:>10}  {:>10}  {:>8}  {:>11}",
        "photo", "decode ms", "read ms", "of decode", "peak MB"
    );
    for (name, width, height) in [
        ("5 MP", 2592, 1944),
        ("12 MP", 4000, 3000),
        ("50 MP", 8160, 6120),
    ] {
        let path = dir.path().join(format!("patch-{width}.jpg"));
        std::fs::write(&path, common::jpeg(width, height)).expect("written");
        let runs: Vec<Run> = (0..RUNS).map(|_| run(&path)).collect();
        let best = |of: fn(&Run) -> f64| runs.iter().map(of).fold(f64::INFINITY, f64::min);
        let (decode, read) = (best(|run| run.decode_ms), best(|run| run.read_ms));
        let peak = runs.iter().map(|run| run.peak_mb).fold(0.0, f64::max);
        println!(
            "{name:>9}  {decode:>10.0}  {read:>10.0}  {:>8.1}x  {peak:>11.0}",
            read / decode
        );
    }
}

struct Run {
    decode_ms: f64,
    read_ms: f64,
    peak_mb: f64,
}

fn run(photo: &Path) -> Run {
    // Not a pipe: a long line would fill it while nobody reads.
    let line = photo.with_extension("json");
    let mut child = Command::new(env!("CARGO_BIN_EXE_swarfbook"))
        .args(["census", "--json", "--threads", "1"])
        .arg(photo)
        .stdout(Stdio::from(File::create(&line).expect("a file")))
        .spawn()
        .expect("starts");
    let mut peak_mb: f64 = 0.0;
    // The system keeps the high-water mark; it is asked until the program is gone.
    while child.try_wait().expect("waits").is_none() {
        peak_mb = peak_mb.max(common::high_water_mb(child.id()).unwrap_or(0.0));
        std::thread::sleep(Duration::from_millis(2));
    }
    let line: Value =
        serde_json::from_slice(&std::fs::read(&line).expect("reads")).expect("one line");
    let ms = |field: &str| line[field].as_f64().expect("a time");
    Run {
        decode_ms: ms("decode_ms"),
        read_ms: ms("ms") - ms("decode_ms"),
        peak_mb,
    }
}
