//! The report of a job with a dozen photos, as the command line makes it: how
//! long it takes from the start of the program to the file on disk, what the file
//! weighs, and what the program held at most.

#![allow(clippy::expect_used, clippy::panic, missing_docs)]

mod common;

use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use swarfbook_app::App;
use swarfbook_app::command::Command as Asked;
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::JobId;

const PHOTOS: u32 = 12;
const RUNS: usize = 5;
/// What a report may take from the start of the program, its copies made before, and may weigh.
const MOST: (Duration, u64) = (Duration::from_secs(1), 3_000_000);

fn main() {
    let dir = tempfile::tempdir().expect("folder");
    let (job, weight) = job(dir.path());
    println!(
        "report of {PHOTOS} photos of 12 MP ({:.1} MB each), counted: the best of {RUNS} runs, the most memory of all",
        weight as f64 / 1e6
    );
    println!("{:>24}  {:>6}  {:>6}  {:>8}", "", "ms", "MB", "peak MB");
    for (what, form, copies) in [
        ("page", "html", true),
        ("PDF", "pdf", true),
        ("PDF, no copies yet", "pdf", false),
    ] {
        let out = dir.path().join(format!("report.{form}"));
        let mut best = Duration::MAX;
        let mut peak: f64 = 0.0;
        for _ in 0..RUNS {
            if !copies {
                // As where photos have just arrived and their copies are still being made.
                std::fs::remove_dir_all(dir.path().join("copies")).expect("removed");
            }
            let (took, held) = run(dir.path(), job, &out);
            best = best.min(took);
            peak = peak.max(held);
        }
        let size = std::fs::metadata(&out).expect("written").len();
        println!(
            "{what:>24}  {:>6}  {:>6.2}  {peak:>8.0}",
            best.as_millis(),
            size as f64 / 1e6
        );
        let (most_time, most_bytes) = MOST;
        assert!(size <= most_bytes, "{what}: more than {most_bytes} bytes");
        assert!(
            !copies || best <= most_time,
            "{what}: more than {most_time:?}"
        );
    }
}

/// A job with its photos, kept and counted; and what a photo weighs.
fn job(dir: &Path) -> (JobId, usize) {
    let app = App::open(dir).expect("opens");
    let Ok(Reply::Job { job }) = app.call(Asked::OpenJob { procedure: None }) else {
        panic!("no job")
    };
    let mut weight = 0;
    for n in 0..PHOTOS {
        // No two of the same bytes.
        let bytes = common::grainy_jpeg(4000 + 4 * n, 3000);
        weight = bytes.len();
        let photo = app.put_photo(&bytes).expect("kept");
        let taken = Fact::PhotoTaken {
            step: "pan-photo".into(),
            photo,
            subject: PhotoSubject::Patch,
        };
        let written = app.call(Asked::Write {
            job: job.id,
            fact: Box::new(taken),
            sure: true,
        });
        let Ok(Reply::Written { entry, .. }) = written else {
            panic!("{written:?}")
        };
        app.call(Asked::TakeCensus {
            job: job.id,
            photo: entry,
        })
        .expect("counted");
    }
    (job.id, weight)
}

fn run(data: &Path, job: JobId, out: &Path) -> (Duration, f64) {
    let begin = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_swarfbook"))
        .args(["report", &job.to_string(), "--data"])
        .arg(data)
        .arg("--out")
        .arg(out)
        .spawn()
        .expect("starts");
    let mut peak_mb: f64 = 0.0;
    while child.try_wait().expect("waits").is_none() {
        peak_mb = peak_mb.max(common::high_water_mb(child.id()).unwrap_or(0.0));
        std::thread::sleep(Duration::from_millis(2));
    }
    assert!(child.wait().expect("ends").success(), "a report was made");
    (begin.elapsed(), peak_mb)
}
