//! Time and peak memory of the census: each stage, the decoding alone, the whole
//! as the command line runs it, and a plain census by OpenCV and scikit-image
//! (`../shared/tools/baseline.py`, not part of the project) side by side.

#![allow(clippy::expect_used, missing_docs)]

mod common;

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use serde_json::Value;
use swarfbook_debris::stages::Staged;
use swarfbook_debris::{Settings, decode};
use swarfbook_job::census::{PhotoHints, PhotoKind};

const RUNS: usize = 5;
/// The baseline takes seconds a photo.
const BASELINE_RUNS: usize = 2;
const SIZES: [(&str, u32, u32); 3] = [
    ("5 MP", 2592, 1944),
    ("12 MP", 4000, 3000),
    ("50 MP", 8160, 6120),
];

fn main() {
    // As a child of its own, so that the memory is that of one photo.
    if let Some(photo) = std::env::var_os("CENSUS_STAGES_OF") {
        return stages(Path::new(&photo));
    }
    let dir = tempfile::tempdir().expect("folder");
    let mut read = Vec::new();
    println!("census, one thread: the best of {RUNS} runs, the most memory of all");
    println!(
        "{:>9}  {:>10}  {:>10}  {:>9}  {:>11}",
        "photo", "decode ms", "read ms", "of decode", "peak MB"
    );
    for (name, width, height) in SIZES {
        let path = dir.path().join(format!("patch-{width}.jpg"));
        std::fs::write(&path, common::jpeg(width, height)).expect("written");
        let runs: Vec<Run> = (0..RUNS).map(|_| run(ours(&path), &path)).collect();
        let best = best_of(&runs);
        println!(
            "{name:>9}  {:>10.0}  {:>10.0}  {:>8.1}x  {:>11.0}",
            best.decode_ms,
            best.read_ms,
            best.read_ms / best.decode_ms,
            best.peak_mb
        );
        read.push((name, path, best));
    }
    for (name, path, _) in &read {
        println!(
            "\n{name}, stage by stage: the best of {RUNS} runs, the memory held at most by then"
        );
        let me = std::env::current_exe().expect("this program");
        let done = Command::new(me).env("CENSUS_STAGES_OF", path).status();
        assert!(done.expect("starts").success(), "the stages of {name}");
    }
    beside_the_baseline(dir.path(), &read);
}

/// Prints each stage of one photo, in ms and as a share of the decoding.
fn stages(photo: &Path) {
    let bytes = std::fs::read(photo).expect("reads");
    let hints = PhotoHints::default();
    let settings = Settings {
        kind: PhotoKind::Patch,
    };
    let mut best = vec![(f64::INFINITY, 0.0); Staged::stages().len() + 1];
    for _ in 0..RUNS {
        let held = |at: usize, start: Instant, best: &mut Vec<(f64, f64)>| {
            let ms = 1e3 * start.elapsed().as_secs_f64();
            let mb = common::high_water_mb(std::process::id()).unwrap_or(0.0);
            best[at] = (best[at].0.min(ms), mb);
        };
        let start = Instant::now();
        let picture = decode(&bytes).expect("a photo");
        held(0, start, &mut best);
        let mut staged = Staged::new(&picture, &hints, &settings).expect("the model that ships");
        for (at, (_, stage)) in Staged::stages().iter().enumerate() {
            let start = Instant::now();
            std::hint::black_box(stage(&mut staged));
            held(at + 1, start, &mut best);
        }
    }
    let names = Staged::stages().map(|(name, _)| name);
    let decode_ms = best[0].0;
    for (name, (ms, mb)) in std::iter::once("decode").chain(names).zip(&best) {
        println!(
            "{name:>16}  {ms:>8.1} ms  {:>6.2}x decode  {mb:>6.0} MB",
            ms / decode_ms
        );
    }
}

/// The same photos by general tools; said plainly where those are not here.
fn beside_the_baseline(photos: &Path, read: &[(&str, PathBuf, Run)]) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let script = root.join("../shared/tools/baseline.py");
    let python = root.join(".venv/bin/python");
    if !script.exists() || !python.exists() {
        println!(
            "\nNOT MEASURED beside the baseline: {} is not here",
            if script.exists() {
                ".venv (make outside)"
            } else {
                "../shared/tools/baseline.py"
            }
        );
        return;
    }
    println!(
        "\nbeside OpenCV and scikit-image, one thread, decoding included: the best of {BASELINE_RUNS} runs"
    );
    println!(
        "{:>9}  {:>8}  {:>12}  {:>10}  {:>8}  {:>11}  {:>11}",
        "photo", "ours ms", "baseline ms", "ours/theirs", "ours MB", "baseline MB", "ours/theirs"
    );
    for (name, path, ours) in read {
        // It reads a folder.
        let folder = photos.join(format!("alone-{}", name.replace(' ', "-")));
        std::fs::create_dir_all(&folder).expect("a folder");
        std::fs::copy(path, folder.join("patch-01.jpg")).expect("copied");
        let out = folder.join("patch-01.json");
        let theirs = || {
            let mut command = Command::new(&python);
            command.arg(&script).arg(&folder).arg(&out);
            for threads in ["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"] {
                command.env(threads, "1");
            }
            command
        };
        let runs: Result<Vec<Run>, String> = (0..BASELINE_RUNS)
            .map(|_| run_into(theirs(), &out))
            .collect();
        let theirs = match runs {
            Ok(runs) => best_of(&runs),
            Err(problem) => {
                println!("{name:>9}  the baseline made no census: {problem}");
                continue;
            }
        };
        let whole = |run: &Run| run.decode_ms + run.read_ms;
        println!(
            "{name:>9}  {:>8.0}  {:>12.0}  {:>10.2}x  {:>8.0}  {:>11.0}  {:>10.2}x",
            whole(ours),
            whole(&theirs),
            whole(ours) / whole(&theirs),
            ours.peak_mb,
            theirs.peak_mb,
            ours.peak_mb / theirs.peak_mb
        );
    }
}

struct Run {
    decode_ms: f64,
    read_ms: f64,
    peak_mb: f64,
}

fn best_of(runs: &[Run]) -> Run {
    let best = |of: fn(&Run) -> f64| runs.iter().map(of).fold(f64::INFINITY, f64::min);
    Run {
        decode_ms: best(|run| run.decode_ms),
        read_ms: best(|run| run.read_ms),
        peak_mb: runs.iter().map(|run| run.peak_mb).fold(0.0, f64::max),
    }
}

fn ours(photo: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_swarfbook"));
    command
        .args(["census", "--json", "--threads", "1"])
        .arg(photo);
    command
}

/// Runs a program that writes its line to its output.
fn run(mut command: Command, photo: &Path) -> Run {
    // Not a pipe: a long line would fill it while nobody reads.
    let line = photo.with_extension("json");
    command.stdout(Stdio::from(File::create(&line).expect("a file")));
    run_into(command, &line).expect("our census")
}

/// Runs a program that leaves its line in a file; or tells the problem that the line names.
fn run_into(mut command: Command, line: &Path) -> Result<Run, String> {
    let mut child = command.spawn().expect("starts");
    let mut peak_mb: f64 = 0.0;
    // The system keeps the high-water mark; it is asked until the program is gone.
    while child.try_wait().expect("waits").is_none() {
        peak_mb = peak_mb.max(common::high_water_mb(child.id()).unwrap_or(0.0));
        std::thread::sleep(Duration::from_millis(2));
    }
    let line: Value =
        serde_json::from_slice(&std::fs::read(line).expect("reads")).expect("one line");
    let ms = |field: &str| line[field].as_f64();
    match (ms("decode_ms"), ms("ms")) {
        (Some(decode_ms), Some(all_ms)) => Ok(Run {
            decode_ms,
            read_ms: all_ms - decode_ms,
            peak_mb,
        }),
        _ => Err(line["problem"].to_string()),
    }
}
