//! Mutated photos through the whole path, on a stable compiler:
//! `batter MINUTES SEED FINDINGS PHOTO...` changes the photos at random for so
//! long and keeps what panicked or took longer than `SLOW` in `FINDINGS`.
//! Blind to coverage, unlike `cargo fuzz`: it finds what lies near true photos.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use swarfbook_debris_fuzz::{TAPPED, whole_path};

/// A small photo is read in less by far.
const SLOW: Duration = Duration::from_secs(10);

/// A small generator (Knuth's MMIX constants): the same seed, the same run.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, below: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % below.max(1)
    }

    fn byte(&mut self) -> u8 {
        self.roll(256) as u8
    }
}

fn main() {
    let mut arguments = std::env::args().skip(1);
    let mut next = |what: &str| {
        arguments
            .next()
            .unwrap_or_else(|| panic!("{what} is missing"))
    };
    let minutes: f64 = next("MINUTES").parse().expect("minutes");
    let seed: u64 = next("SEED").parse().expect("a seed");
    let findings = PathBuf::from(next("FINDINGS"));
    std::fs::create_dir_all(&findings).expect("a folder for findings");
    let photos: Vec<Vec<u8>> = arguments
        .map(|path| std::fs::read(path).expect("a photo"))
        .collect();
    assert!(!photos.is_empty(), "PHOTO is missing");
    std::panic::set_hook(Box::new(|_| {}));

    let mut dice = Dice(seed);
    let (began, mut told) = (Instant::now(), Instant::now());
    let (mut runs, mut read, mut found, mut slowest) = (0u64, 0u64, 0u64, Duration::ZERO);
    let mut last = None;
    while began.elapsed().as_secs_f64() < 60.0 * minutes {
        let data = mutated(&mut dice, &photos);
        let start = Instant::now();
        let done = catch_unwind(AssertUnwindSafe(|| whole_path(&data, last.as_ref())));
        let took = start.elapsed();
        runs += 1;
        slowest = slowest.max(took);
        if done.is_err() || took > SLOW {
            found += 1;
            let kind = if done.is_err() { "panic" } else { "slow" };
            let _ = std::fs::write(findings.join(format!("{kind}-{seed}-{runs}")), &data);
            println!("{kind} at run {runs}, {:.1} s", took.as_secs_f64());
        }
        if let Ok(Some(census)) = done {
            read += 1;
            if !census.particles.is_empty() {
                last = Some(census);
            }
        }
        if told.elapsed() > Duration::from_secs(60) {
            told = Instant::now();
            println!(
                "{runs} runs, {read} read, {found} findings, slowest {:.2} s",
                slowest.as_secs_f64()
            );
        }
    }
    println!(
        "{runs} runs in {:.1} minutes, seed {seed}: {read} read as pictures, {found} findings, slowest {:.2} s, most memory {}",
        began.elapsed().as_secs_f64() / 60.0,
        slowest.as_secs_f64(),
        high_water()
    );
    std::process::exit(i32::from(found > 0));
}

/// The most memory that the program held, where the system tells.
fn high_water() -> String {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.map_or("unknown".to_owned(), |kb| kb.trim().to_owned())
}

fn mutated(dice: &mut Dice, photos: &[Vec<u8>]) -> Vec<u8> {
    let mut photo = photos[dice.roll(photos.len())].clone();
    // Some stay whole, so that hints of all kinds meet pictures that are read.
    for _ in 0..dice.roll(6) {
        mutate(dice, &mut photo, photos);
    }
    let mut data: Vec<u8> = (0..TAPPED).map(|_| dice.byte()).collect();
    data.append(&mut photo);
    data
}

fn mutate(dice: &mut Dice, photo: &mut Vec<u8>, photos: &[Vec<u8>]) {
    if photo.is_empty() {
        return;
    }
    let at = dice.roll(photo.len());
    match dice.roll(9) {
        0 => photo[at] ^= 1 << dice.roll(8),
        1 => photo[at] = dice.byte(),
        2 => photo.truncate(at),
        3 => {
            // A number of two bytes: a length, a size.
            let value = [0u16, 1, 63, 64, 255, 256, 4000, 10_000, 0x7FFF, 0xFFFF][dice.roll(10)];
            for (to, from) in photo[at..].iter_mut().zip(value.to_be_bytes()) {
                *to = from;
            }
        }
        4 => {
            let end = (at + dice.roll(64)).min(photo.len());
            photo.drain(at..end);
        }
        5 => {
            let end = (at + dice.roll(256)).min(photo.len());
            let again = photo[at..end].to_vec();
            photo.splice(at..at, again);
        }
        6 => {
            let other = &photos[dice.roll(photos.len())];
            let from = dice.roll(other.len());
            photo.truncate(at);
            photo.extend_from_slice(&other[from..]);
        }
        7 => {
            // Near the front, where headers are.
            let at = dice.roll(photo.len().min(700));
            photo[at] = dice.byte();
        }
        _ => {
            for _ in 0..dice.roll(40) {
                let at = dice.roll(photo.len());
                photo[at] = dice.byte();
            }
        }
    }
}
