//! Fault points: each change of the disk in a small piece of real work (lines, photos whole
//! and in pieces, customers, drafts, another's lines, backups, a backup brought back) is one.
//!
//! - The power goes at it: it is the last that came through, only its first bytes came, or of
//!   all that no sync made last any part did. The folder is then opened and looked through.
//! - It fails: once, with half of a write done, or it and all behind it; the work goes on as it
//!   can, and then the power goes, too.
//!
//! `make test` looks at some of them, `make faults` at each: `FAULTS=all FAULTS_SEED=7`. The
//! same seed draws the same.
#![allow(clippy::expect_used, clippy::panic)] // helpers of tests are outside of them

mod chance;
mod held;
mod platter;
mod trace;
mod work;

use std::collections::hash_map::DefaultHasher;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::hash::{Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;
use std::thread;

use chance::Chance;
use held::Told;
use platter::{Cut, Image, Platter};
use swarfbook_store::{DatabaseFault, StoreError};
use tempfile::TempDir;
use trace::{Change, order};
use work::{AGAIN, SAFE, SHOP, STEPS, Work};

/// Set in the process whose disk is simulated.
const INSIDE: &str = "SIMULATED_DISK";
/// Of how many points one is looked at in `make test`.
const ONE_IN_CUT: usize = 9;
const ONE_IN_FAILED: usize = 120;
/// How a change fails.
const HOWS: [&str; 3] = ["once", "half", "gone"];

#[test]
fn whenever_the_power_goes_nothing_acknowledged_is_lost() {
    if std::env::var_os(INSIDE).is_none() {
        return on_the_simulated_disk("whenever_the_power_goes_nothing_acknowledged_is_lost");
    }
    let root = folder();
    let run = recorded(root.path(), None);
    assert!(run.refused.is_empty(), "{:?}", run.refused);
    let counts = at_once(|worker, workers| {
        let mut looked = Looked::default();
        let (mut platter, mut kept) = (Platter::default(), 0);
        for (point, change) in run.changes.iter().enumerate() {
            let is_mine = is_drawn(point, ONE_IN_CUT, worker, workers);
            let told = Told {
                kept: &run.told[..kept],
                later: &run.told[kept..],
            };
            let mut chance = Chance(seed() ^ (point as u64) << 32);
            if let (true, Change::Written { bytes, at, .. }) = (is_mine, change) {
                for first in tears(*at, bytes.len(), &mut chance) {
                    let image = platter.torn(change, first);
                    looked.at("a write is torn", point, &image, &told);
                }
            }
            platter.tell(change);
            match change {
                Change::Said(_) => kept += 1,
                _ if is_mine => {
                    for (what, cut) in CUTS {
                        let image = platter.image(cut, &mut chance);
                        looked.at(what, point, &image, &told);
                    }
                    looked.points += 1;
                }
                _ => {}
            }
        }
        looked
    });
    let changes = run.changes.len() - run.told.len();
    println!(
        "the power went, seed {}: of {changes} changes of the disk {counts}",
        seed()
    );
}

const CUTS: [(&str, Cut); 6] = [
    ("killed behind it", Cut::NothingIsGone),
    ("only what lasts is there", Cut::OnlyWhatLasts),
    ("some changes are there", Cut::SomeChanges),
    ("some changes are there", Cut::SomeChanges),
    ("some sectors are there", Cut::SomeSectors),
    ("some sectors are there", Cut::SomeSectors),
];

#[test]
fn whichever_change_of_the_disk_fails_nothing_acknowledged_is_lost() {
    if std::env::var_os(INSIDE).is_none() {
        return on_the_simulated_disk(
            "whichever_change_of_the_disk_fails_nothing_acknowledged_is_lost",
        );
    }
    let root = folder();
    let whole = recorded(root.path(), None);
    let counts = at_once(|worker, workers| {
        let mut looked = Looked::default();
        for point in 0.. {
            if !is_drawn(point, ONE_IN_FAILED, worker, workers) {
                continue;
            }
            let mut reached = false;
            for how in HOWS {
                let root = folder();
                let run = recorded(root.path(), Some((how, point)));
                reached |= run.failed;
                if !run.failed {
                    continue;
                }
                let told = Told {
                    kept: &run.told,
                    later: &whole.told,
                };
                let backed_up = run.told.iter().any(|said| begun(said) == SAFE);
                for (step, why) in &run.refused {
                    let no_backup = matches!(why, StoreError::Backup(_)) && !backed_up;
                    if !is_of_the_disk(why) && !no_backup {
                        let why = why
                            .to_string()
                            .replace(&root.path().display().to_string(), "DIR");
                        looked.wrong(how, point, format!("step {step}: {why}"));
                    }
                }
                *looked.counts.entry(how).or_default() += 1;
                let mut platter = Platter::default();
                run.changes.iter().for_each(|change| platter.tell(change));
                let mut chance = Chance(seed() ^ (point as u64) << 32);
                for (what, cut) in CUTS {
                    let image = platter.image(cut, &mut chance);
                    looked.at(&format!("{how}, then {what}"), point, &image, &told);
                }
            }
            if !reached {
                break;
            }
            looked.points += 1;
        }
        looked
    });
    println!("changes failed, seed {}: {counts}", seed());
}

/// A change that fails may be told as what it is, and as nothing else.
fn is_of_the_disk(why: &StoreError) -> bool {
    match why {
        StoreError::Full | StoreError::File { .. } | StoreError::ReadOnly(_) => true,
        StoreError::Database { fault, .. } => {
            matches!(fault, DatabaseFault::Disk | DatabaseFault::Folder)
        }
        _ => false,
    }
}

/// One run of the work.
struct Run {
    changes: Vec<Change>,
    told: Vec<String>,
    refused: Vec<(usize, StoreError)>,
    failed: bool,
}

/// Works below `root`, where a change may fail, and writes down what the disk was told.
fn recorded(root: &Path, failing: Option<(&str, usize)>) -> Run {
    let trace = root.with_extension("trace");
    let mut work = Work::below(root);
    let (mut told, mut refused) = (Vec::new(), Vec::new());
    order(&format!("trace/{}", trace.display()));
    order(&format!("watch/{}", root.display()));
    if let Some((how, point)) = failing {
        order(&format!("fail/{how}/{point}"));
    }
    for (at, step) in STEPS.iter().enumerate() {
        match step(&mut work) {
            Ok(done) => {
                for said in done {
                    order(&format!("said/{said}"));
                    told.push(said);
                }
            }
            Err(why) => refused.push((at, why)),
        }
    }
    drop(work);
    let failed = order("failed");
    order("off");
    let changes = trace::read(&trace, root);
    fs::remove_file(trace).expect("was there");
    Run {
        changes,
        told,
        refused,
        failed,
    }
}

/// What was looked at, and what was wrong.
#[derive(Default)]
struct Looked {
    points: u64,
    counts: BTreeMap<&'static str, u64>,
    wrong: BTreeMap<String, Vec<String>>,
    seen: BTreeSet<(u64, usize, &'static str)>,
}

type Look = fn(&Path, &Told<'_>) -> Result<(), String>;

const PARTS: [(&str, Look); 3] = [
    (SHOP, held::shop_is_whole),
    (SAFE, held::backup_is_whole),
    (AGAIN, held::restored_is_whole),
];

impl Looked {
    fn wrong(&mut self, what: &str, point: usize, why: String) {
        let places = self.wrong.entry(format!("{what}: {why}")).or_default();
        places.push(point.to_string());
    }

    fn at(&mut self, what: &str, point: usize, image: &Image, told: &Told<'_>) {
        *self.counts.entry("images").or_default() += 1;
        let mut laid = None;
        for (part, look) in PARTS {
            let begins = format!("{part}/");
            let of_it = image.iter().filter(|(path, _)| path.starts_with(&begins));
            let mut hash = DefaultHasher::new();
            of_it.clone().for_each(|file| file.hash(&mut hash));
            let is_there = of_it.count() > 0 || told.kept.iter().any(|said| begun(said) == part);
            // The next backup is one of the shop.
            if !is_there || !self.seen.insert((hash.finish(), told.kept.len(), part)) {
                continue;
            }
            *self.counts.entry("folders looked through").or_default() += 1;
            let root = laid.get_or_insert_with(|| lay_out(image));
            if let Err(why) = look(root.path(), told) {
                let why = why.replace(&root.path().display().to_string(), "DIR");
                self.wrong(what, point, why);
            }
        }
    }
}

/// The folder that an acknowledgement is about.
fn begun(said: &str) -> &'static str {
    match said {
        _ if said.starts_with("backup ") => SAFE,
        _ if said.starts_with("restored ") => AGAIN,
        _ => SHOP,
    }
}

fn lay_out(image: &Image) -> TempDir {
    let root = folder();
    // A folder comes before what is in it.
    for (path, content) in image {
        let path = root.path().join(path);
        let done = match content {
            None => fs::create_dir(path),
            Some(bytes) => fs::write(path, bytes),
        };
        done.expect("laid out");
    }
    root
}

/// Does a part of the work in each of some threads; fails with all that was wrong.
fn at_once(part: impl Fn(usize, usize) -> Looked + Sync) -> String {
    let workers = thread::available_parallelism().map_or(1, usize::from);
    let all: Mutex<Looked> = Mutex::default();
    thread::scope(|scope| {
        for worker in 0..workers {
            let (part, all) = (&part, &all);
            scope.spawn(move || {
                let looked = part(worker, workers);
                let mut all = all.lock().expect("whole");
                all.points += looked.points;
                for (what, n) in looked.counts {
                    *all.counts.entry(what).or_default() += n;
                }
                for (what, mut points) in looked.wrong {
                    all.wrong.entry(what).or_default().append(&mut points);
                }
            });
        }
    });
    let all = all.into_inner().expect("whole");
    let wrong: Vec<String> = all
        .wrong
        .iter()
        .map(|(what, points)| {
            format!(
                "{what}\n    {} points, the first {}",
                points.len(),
                points[0]
            )
        })
        .collect();
    assert!(wrong.is_empty(), "seed {}:\n{}", seed(), wrong.join("\n"));
    assert!(all.points > 0);
    format!("{} points, {:?}, nothing lost", all.points, all.counts)
}

/// Where a write is torn: between two sectors, where it lies across some, and at an odd byte.
fn tears(at: usize, length: usize, chance: &mut Chance) -> Vec<usize> {
    let first = 512 - at % 512;
    let edges = length.saturating_sub(first + 1) / 512 + usize::from(length > first);
    let edge = (edges > 0).then(|| first + 512 * chance.below(edges as u64) as usize);
    let odd = (length > 1).then(|| 1 + 2 * chance.below(length as u64 / 2) as usize);
    edge.into_iter().chain(odd).collect()
}

fn is_drawn(point: usize, one_in: usize, worker: usize, workers: usize) -> bool {
    let all = std::env::var("FAULTS").is_ok_and(|which| which == "all");
    let one_in = if all { 1 } else { one_in };
    let at = point + seed() as usize % one_in;
    at.is_multiple_of(one_in) && (at / one_in) % workers == worker
}

fn seed() -> u64 {
    let seed = std::env::var("FAULTS_SEED").ok();
    seed.map_or(1, |seed| seed.parse().expect("a number"))
}

/// In memory: the disk is simulated.
fn folder() -> TempDir {
    let shared = Path::new("/dev/shm");
    let within: PathBuf = match shared.is_dir() {
        true => shared.to_owned(),
        false => std::env::temp_dir(),
    };
    tempfile::tempdir_in(within).expect("folder")
}

/// Runs the test again, with the C library's file calls replaced.
fn on_the_simulated_disk(test: &str) {
    let dir = tempfile::tempdir().expect("folder");
    let disk = dir.path().join("disk.so");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/faults/disk.c");
    let built = Command::new("cc")
        .args(["-shared", "-fPIC", "-O1", "-o"])
        .args([&disk, &source])
        .arg("-ldl")
        .status()
        .expect("a C compiler is there: SQLite is built by it");
    assert!(built.success());
    let here = std::env::current_exe().expect("a program");
    let ran = Command::new(here)
        .args([test, "--exact", "--nocapture"])
        .env("LD_PRELOAD", &disk)
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
