//! Killed at any moment of jobs with photos, customers and drafts: nothing that was
//! acknowledged is lost, and what was not is there whole or not at all.
//!
//! `KILLS=10000 KILLS_SEED=7` for more and others; `make faults` does that. A seed gives the
//! same work and the same waits before each kill; where in the work it falls is the system's.

#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{CustomerId, DeviceId, JobId, Sha256Hex};
use swarfbook_store::{Arrived, NewEntry, Store};
use uuid::Uuid;

/// Kills of one folder, before a new one is begun.
const KILLS_A_FOLDER: u64 = 25;
/// Folders at a time.
const AT_ONCE: u64 = 4;

fn now() -> DateTime<FixedOffset> {
    DateTime::parse_from_rfc3339("2026-03-02T08:00:00+01:00").expect("a time")
}

/// SplitMix64 (Steele, Lea and Flood 2014, from memory): enough to be different each time.
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    fn below(&mut self, most: u64) -> u64 {
        self.next() % most
    }

    /// Bytes that no other photo has.
    fn picture(&mut self) -> Vec<u8> {
        let length = 1 + self.below(40_000);
        (0..=length / 8)
            .flat_map(|_| self.next().to_le_bytes())
            .collect()
    }
}

fn append(store: &Store, facts: Vec<Fact>) -> String {
    let lines: Vec<NewEntry> = facts
        .into_iter()
        .map(|fact| NewEntry {
            job: JobId(Uuid::from_u128(7)),
            fact,
            now: now(),
        })
        .collect();
    let written = store.append(&lines).expect("written");
    let last = written.last().expect("lines");
    format!("line {} {}", last.entry.seq, last.hash)
}

fn taken(photo: Sha256Hex) -> Fact {
    Fact::PhotoTaken {
        photo,
        subject: PhotoSubject::Pan,
        step: "pan".into(),
    }
}

/// One piece of work, and what it acknowledges.
fn work(store: &Store, chance: &mut Chance) -> String {
    let number = chance.next();
    match chance.below(5) {
        0 => {
            let photo = store.put_photo(&chance.picture()).expect("kept");
            format!("{} photo {photo}", append(store, vec![taken(photo)]))
        }
        1 => {
            // By pieces, from another device; the line that names it comes first, as in sync.
            let picture = chance.picture();
            let photo = Sha256Hex::of(&picture);
            let from = DeviceId(Uuid::from_u128(5));
            let (total, mut at) = (picture.len() as u64, 0);
            for piece in picture.chunks(1 + picture.len() / 3) {
                store.arrive(photo, from, at, piece, total).expect("taken");
                at += piece.len() as u64;
            }
            assert_eq!(store.arrived(photo, from).expect("reads"), Arrived::Whole);
            format!("{} photo {photo}", append(store, vec![taken(photo)]))
        }
        2 => {
            // Two lines that are there both or not at all.
            let step = format!("pair {number}");
            let done = store.together(|store| {
                append(store, vec![Fact::StepTicked { step: step.clone() }]);
                Ok::<_, swarfbook_store::StoreError>(append(
                    store,
                    vec![Fact::StepTicked { step: step.clone() }],
                ))
            });
            done.expect("written")
        }
        3 => {
            let id = CustomerId(Uuid::from_u128(u128::from(number % 3)));
            let name = format!("Ada {number}");
            store.save_customer(id, &name, "none", now()).expect("kept");
            format!("customer {id} {name}")
        }
        _ => {
            let field = format!("field {}", number % 3);
            let (job, text) = (JobId(Uuid::from_u128(7)), number.to_string());
            store.keep_draft(job, &field, &text).expect("kept");
            format!("draft {} {text}", number % 3)
        }
    }
}

/// The child: works and says what is done until it is killed.
#[test]
#[ignore = "started by the others, to be killed"]
fn works_until_it_is_killed() {
    let Ok(dir) = std::env::var("KILLS_DIR") else {
        return;
    };
    let seed = std::env::var("KILLS_ROUND").expect("a seed");
    let mut chance = Chance(seed.parse().expect("a number"));
    let store = Store::open(Path::new(&dir)).expect("opens");
    let say = |words: &str| {
        let mut out = std::io::stdout().lock();
        // In one write, which a pipe takes whole or not at all.
        out.write_all(format!("\ndone: {words}\n").as_bytes())
            .and_then(|()| out.flush())
            .expect("said");
    };
    say("open");
    loop {
        say(&work(&store, &mut chance));
    }
}

/// All that a folder has acknowledged.
#[derive(Default)]
struct Acknowledged {
    lines: BTreeMap<u64, String>,
    photos: Vec<Sha256Hex>,
    customers: BTreeMap<String, String>,
    drafts: BTreeMap<String, String>,
}

impl Acknowledged {
    fn read(&mut self, said: &str) {
        let words: Vec<&str> = said.split(' ').collect();
        match words[..] {
            ["open"] => {}
            ["line", seq, hash] => {
                self.lines
                    .insert(seq.parse().expect("a number"), hash.into());
            }
            ["line", seq, hash, "photo", photo] => {
                self.lines
                    .insert(seq.parse().expect("a number"), hash.into());
                self.photos.push(photo.parse().expect("a hash"));
            }
            ["customer", id, first, number] => {
                self.customers
                    .insert(id.into(), format!("{first} {number}"));
            }
            ["draft", field, text] => {
                self.drafts.insert(field.into(), text.into());
            }
            _ => panic!("{said}"),
        }
    }

    /// What was acknowledged last of a customer or draft may have been replaced by what was
    /// on its way; so it is only asked that something as late is there.
    fn is_kept(&self, dir: &Path) {
        let store = Store::open(dir).expect("opens after a kill");
        assert_eq!(store.read_only(), None);
        let lines = store
            .entries_after(store.device(), 0, usize::MAX)
            .expect("reads");
        for (at, line) in lines.iter().enumerate() {
            assert_eq!(line.entry.seq, at as u64 + 1, "no gap");
        }
        for (seq, hash) in &self.lines {
            let kept = lines.get(usize::try_from(*seq).expect("small") - 1);
            let kept = kept.unwrap_or_else(|| panic!("line {seq} is lost"));
            assert_eq!(kept.hash.to_string(), *hash, "line {seq}");
        }
        let mut pairs: BTreeMap<&str, u32> = BTreeMap::new();
        for line in &lines {
            if let Some(Fact::StepTicked { step }) = line.entry.body.known() {
                *pairs.entry(step).or_default() += 1;
            }
        }
        assert!(pairs.values().all(|lines| *lines == 2), "{pairs:?}");
        let named = store.photos_named().expect("reads");
        for photo in self.photos.iter().chain(&named) {
            let why = store.photo(*photo);
            assert!(why.is_ok(), "photo {photo}: {why:?}");
        }
        assert!(self.photos.iter().all(|photo| named.contains(photo)));
        for id in self.customers.keys() {
            let id = id.parse().expect("an id");
            let kept = store.customer(id).expect("reads");
            assert!(kept.is_some_and(|kept| kept.name.starts_with("Ada ")));
        }
        let drafts = store.drafts(JobId(Uuid::from_u128(7))).expect("reads");
        for field in self.drafts.keys() {
            assert!(drafts.contains_key(&format!("field {field}")));
        }
    }
}

fn start(dir: &Path, round: u64) -> Child {
    Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "works_until_it_is_killed", "--ignored"])
        .args(["--nocapture", "--test-threads=1"])
        .env("KILLS_DIR", dir)
        .env("KILLS_ROUND", round.to_string())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("starts")
}

/// Works in one folder, and is killed so often.
fn killed_in_one_folder(seed: u64, kills: u64) -> (usize, usize) {
    let dir = tempfile::tempdir().expect("folder");
    let mut chance = Chance(seed);
    let mut acknowledged = Acknowledged::default();
    for _ in 0..kills {
        let mut child = start(dir.path(), chance.next());
        let mut out = BufReader::new(child.stdout.take().expect("piped")).lines();
        let mut said = |out: &mut dyn Iterator<Item = std::io::Result<String>>| {
            // A line that the kill cut is none.
            let line = out.next()?.ok()?;
            if let Some(done) = line.strip_prefix("done: ") {
                acknowledged.read(done);
            }
            Some(line)
        };
        // One in five while it opens, which also mends what the last kill left.
        if chance.below(5) > 0 {
            while said(&mut out).is_some_and(|line| line != "done: open") {}
            // So that something is done on a busy machine, too.
            let mut wanted = chance.below(8);
            while wanted > 0
                && let Some(line) = said(&mut out)
            {
                wanted -= u64::from(line.starts_with("done: "));
            }
        }
        std::thread::sleep(Duration::from_micros(chance.below(10_000)));
        child.kill().expect("killed");
        while said(&mut out).is_some() {}
        let ended = child.wait_with_output().expect("gone");
        let words = String::from_utf8_lossy(&ended.stderr).into_owned();
        assert!(!words.contains("panicked"), "seed {seed}: {words}");
        // Else the next one finds what this one left.
        if chance.below(4) > 0 {
            acknowledged.is_kept(dir.path());
        }
    }
    acknowledged.is_kept(dir.path());
    (acknowledged.lines.len(), acknowledged.photos.len())
}

fn asked(name: &str, usual: u64) -> u64 {
    let asked = std::env::var(name).ok();
    asked.map_or(usual, |asked| asked.parse().expect("a number"))
}

#[test]
fn killed_at_any_moment_nothing_acknowledged_is_lost() {
    let (kills, seed) = (asked("KILLS", 500), asked("KILLS_SEED", 1));
    let folders = kills.div_ceil(KILLS_A_FOLDER);
    let done: Vec<(usize, usize)> = std::thread::scope(|scope| {
        let working: Vec<_> = (0..AT_ONCE)
            .map(|worker| {
                scope.spawn(move || {
                    (worker..folders)
                        .step_by(AT_ONCE as usize)
                        .map(|folder| {
                            let left = kills - folder * KILLS_A_FOLDER;
                            let seed = Chance(seed ^ (folder << 32)).next();
                            killed_in_one_folder(seed, left.min(KILLS_A_FOLDER))
                        })
                        .collect::<Vec<_>>()
                })
            })
            .collect();
        let joined = working.into_iter();
        joined.flat_map(|w| w.join().expect("none lost")).collect()
    });
    let lines: usize = done.iter().map(|(lines, _)| lines).sum();
    let photos: usize = done.iter().map(|(_, photos)| photos).sum();
    println!(
        "{kills} kills, seed {seed}: {lines} changes of the log and {photos} photos acknowledged, none lost"
    );
    // It did work between the kills.
    assert!(
        lines as u64 > kills && photos as u64 > kills / 2,
        "{lines} {photos}"
    );
}
