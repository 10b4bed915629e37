//! Whether a view, a search and a write cost more in a large shop than in a small one, in one
//! run: `cargo bench -p swarfbook-hub --bench shop [-- JOBS]`, against a shop of 200. Each job
//! has 100 lines; the one that is measured has four photos, each counted.

#![allow(clippy::expect_used, clippy::panic, missing_docs)]

use std::str::FromStr;
use std::time::{Duration, Instant};

use chrono::{DateTime, FixedOffset};
use swarfbook_app::App;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_app::settings::Settings;
use swarfbook_job::clock::Hlc;
use swarfbook_job::entry::{Entry, Sealed};
use swarfbook_job::fact::{Car, Complaint, Fact, PhotoSubject};
use swarfbook_job::id::{DeviceId, EntryId, JobId, Sha256Hex};
use swarfbook_store::NewEntry;
use swarfbook_words::Language;

/// The small shop.
const SMALL: u32 = 200;
/// The large one, where nothing else is asked.
const LARGE: u32 = 20_000;
const LINES: usize = 100;
/// How often each thing is done; the median counts.
const TIMES: usize = 30;
/// The most that a view, a search or a write may cost in the large shop, of what it costs in the
/// small one.
const MOST_RATIO: f64 = 1.5;
/// The most that a write may cost beside its commit, ms.
const MOST_MORE_MS: f64 = 25.0;

const IMPORTED: &str = "the list after an import";
const WRITE: &str = "a write, four photos";
const COMMIT: &str = "the commit alone";
const SPOKEN: &str = "the list in another language";

const PATCH: &[u8] = include_bytes!("../../app/demo/patch-10.jpg");

fn main() {
    // Cargo hands over words of its own.
    let asked = std::env::args().find_map(|word| word.parse().ok());
    let large = asked.unwrap_or(LARGE);
    let [small, big] = [SMALL, large].map(measured);
    println!("| median of {TIMES}, ms | {SMALL} jobs | {large} jobs | ratio | |");
    println!("| --- | --- | --- | --- | --- |");
    for ((what, small), (_, large)) in small.iter().zip(&big) {
        let ratio = millis(*large) / millis(*small);
        let said = match bounded(what) {
            false => "",
            true if ratio > MOST_RATIO => "**over 1.5**",
            true => "at most 1.5",
        };
        println!(
            "| {what} | {:.2} | {:.2} | {ratio:.1} | {said} |",
            millis(*small),
            millis(*large),
        );
    }
    for (jobs, all) in [(SMALL, &small), (large, &big)] {
        let of = |name| {
            let mut all = all.iter();
            all.find(|(what, _)| *what == name)
                .map_or(f64::NAN, |(_, time)| millis(*time))
        };
        println!(
            "{jobs} jobs: a write costs {:.1} ms more than its commit (wanted: at most {MOST_MORE_MS}).",
            of(WRITE) - of(COMMIT)
        );
    }
}

/// Whether the same is wanted of it in a large shop as in a small one: not of what is done once
/// to all jobs, nor of the disk's own share.
fn bounded(what: &str) -> bool {
    ![IMPORTED, COMMIT, SPOKEN].contains(&what)
}

fn millis(time: Duration) -> f64 {
    time.as_secs_f64() * 1_000.0
}

fn measured(jobs: u32) -> Vec<(&'static str, Duration)> {
    let dir = tempfile::tempdir().expect("folder");
    let app = App::open(dir.path()).expect("opens");
    let filled = once(|| fill(&app, jobs));
    eprintln!("{jobs} jobs written in {filled:.0?}");
    let first = once(|| page(&app, ""));
    let job = with_photos(&app);
    page(&app, "");
    let view = || done(&app, Command::Job { job });
    let write = || write(&app, job, noted("seen"));
    let commit = || {
        let line = NewEntry {
            job: named(1),
            fact: noted("seen"),
            now: began(),
        };
        app.store().append(&[line]).expect("written")
    };
    let spoken = |language| {
        let settings = Settings {
            language: Some(language),
            ..Settings::default()
        };
        done(&app, Command::SaveSettings { settings });
    };
    let mut results = vec![(IMPORTED, first)];
    results.push(("a view, four photos", median(view)));
    results.push((WRITE, median(write)));
    results.push((COMMIT, median(commit)));
    results.push(("the first page", median(|| page(&app, ""))));
    results.push(("a search for a plate", median(|| page(&app, "sb 1017"))));
    results.push((
        "a search for a common word",
        median(|| page(&app, "shudders")),
    ));
    spoken(Language::De);
    results.push((SPOKEN, once(|| page(&app, ""))));
    spoken(Language::En);
    results
}

fn once<T>(what: impl FnOnce() -> T) -> Duration {
    let began = Instant::now();
    std::hint::black_box(what());
    began.elapsed()
}

fn median<T>(what: impl Fn() -> T) -> Duration {
    what();
    let mut times: Vec<Duration> = (0..TIMES).map(|_| once(&what)).collect();
    times.sort();
    times[TIMES / 2]
}

fn done(app: &App, command: Command) -> Reply {
    app.call(command).expect("is done")
}

fn write(app: &App, job: JobId, fact: Fact) -> EntryId {
    let fact = Box::new(fact);
    let sure = true;
    match done(app, Command::Write { job, fact, sure }) {
        Reply::Written { entry, .. } => entry,
        other => panic!("{other:?}"),
    }
}

/// An id by its number.
fn named<T: FromStr<Err: std::fmt::Debug>>(number: u64) -> T {
    let text = format!("00000000-0000-4000-8000-{number:012x}");
    text.parse().expect("an id")
}

fn began() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2024-01-01T08:00:00+01:00").expect("a time")
}

fn page(app: &App, search: &str) -> Reply {
    let search = search.to_owned();
    done(
        app,
        Command::Jobs {
            search,
            skip: 0,
            limit: 50,
        },
    )
}

/// Jobs of another device, taken in as a sync does. Every car comes twice.
fn fill(app: &App, jobs: u32) {
    let device: DeviceId = named(77);
    let mut prev = Sha256Hex::ZERO;
    let mut seq: u64 = 0;
    for some in (0..jobs).collect::<Vec<_>>().chunks(200) {
        let mut lines: Vec<Sealed> = Vec::new();
        for number in some {
            let job = named(1 + u64::from(*number));
            for fact in facts(*number) {
                seq += 1;
                let wall = began() + chrono::Duration::seconds(20 * seq.cast_signed());
                let entry = Entry {
                    id: named(seq),
                    job,
                    device,
                    seq,
                    wall,
                    hlc: Hlc {
                        millis: u64::try_from(wall.timestamp_millis()).expect("after 1970"),
                        counter: 0,
                    },
                    prev,
                    body: fact.into(),
                };
                let line = entry.seal().expect("sealed");
                prev = line.hash;
                lines.push(line);
            }
        }
        app.store()
            .import(&lines, 4_000_000_000_000)
            .expect("taken in");
    }
}

fn facts(number: u32) -> Vec<Fact> {
    let mut facts = vec![
        Fact::Opened {
            procedure: "pan-service-electrical".into(),
            procedure_version: 4,
        },
        Fact::WrittenBy {
            name: "Robin Invented".into(),
        },
        car(number / 2, 90_000.0 + f64::from(number)),
        Fact::ComplaintNoted {
            complaint: Complaint {
                words: "shudders at light throttle".into(),
                when: Vec::new(),
                symptoms: Vec::new(),
            },
        },
        Fact::StepTicked { step: "car".into() },
    ];
    facts.resize_with(LINES, || noted("seen, of an invented job"));
    facts
}

fn noted(text: &str) -> Fact {
    Fact::Noted {
        step: "car".into(),
        topic: None,
        text: text.into(),
        private: false,
    }
}

fn car(number: u32, km: f64) -> Fact {
    let car = Car {
        plate: format!("SB {}", 1_000 + number),
        description: "invented estate car".into(),
        odometer_km: Some(km),
        ..Car::default()
    };
    Fact::CarNoted { car }
}

/// A job of this device with 100 lines, of a car that was here before.
fn with_photos(app: &App) -> JobId {
    let Reply::Job { job } = done(app, Command::OpenJob { procedure: None }) else {
        panic!("no job");
    };
    let job = job.id;
    let write = |fact| write(app, job, fact);
    write(car(17, 190_000.0));
    let photo = app.put_photo(PATCH).expect("kept");
    for _ in 0..4 {
        let photo = write(Fact::PhotoTaken {
            step: "patch".into(),
            photo,
            subject: PhotoSubject::Patch,
        });
        done(app, Command::TakeCensus { job, photo });
    }
    let line = NewEntry {
        job,
        fact: noted("seen, of an invented job"),
        now: began(),
    };
    app.store()
        .append(&vec![line; LINES - 15])
        .expect("written");
    job
}
