//! Class probabilities calibrated to what technicians confirm, over photos of two painters that neither the finder nor the
//! trees of the proposals had met (`calibrate/`: what the reading said of each piece, and what it is). No photo is real,
//! and the technicians are simulated: they leave what is right, and of what they correct one piece in ten is wrong.

#![allow(clippy::unwrap_used)] // in helpers of tests, too

use std::collections::BTreeMap;

use serde::Deserialize;
use swarfbook_debris::{Known, LEAST_PIECES, before_calibration, calibrated_p, calibration};
use swarfbook_job::census::{Calibration, DebrisClass};

#[derive(Deserialize)]
struct Piece {
    p: BTreeMap<DebrisClass, f64>,
    is: Option<DebrisClass>,
}

/// The pieces that are debris, photo by photo.
fn photos(text: &str) -> Vec<Vec<Known>> {
    let photos: Vec<Vec<Piece>> = serde_json::from_str(text).unwrap();
    let known = |piece: Piece| piece.is.map(|class| Known { p: piece.p, class });
    photos
        .into_iter()
        .map(|photo| photo.into_iter().filter_map(known).collect::<Vec<_>>())
        .filter(|photo| !photo.is_empty())
        .collect()
}

fn third() -> Vec<Vec<Known>> {
    photos(include_str!("calibrate/third.json"))
}

fn second() -> Vec<Vec<Known>> {
    photos(include_str!("calibrate/second.json"))
}

/// A small generator (Knuth's MMIX constants), so that the draws are the same everywhere.
struct Dice(u64);

impl Dice {
    fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.roll() * n as f64) as usize).min(n - 1)
    }

    fn shuffle<T>(&mut self, all: &mut [T]) {
        for last in (1..all.len()).rev() {
            let other = self.below(last + 1);
            all.swap(last, other);
        }
    }
}

fn likeliest(p: &BTreeMap<DebrisClass, f64>) -> DebrisClass {
    *p.iter().max_by(|a, b| a.1.total_cmp(b.1)).unwrap().0
}

/// What a technician leaves in the log: of what they correct, so many are wrong.
fn confirmed(photo: &[Known], wrong: f64, dice: &mut Dice) -> Vec<Known> {
    let of = |piece: &Known| {
        let mut said = piece.clone();
        let corrects = likeliest(&piece.p) != piece.class;
        if corrects && dice.roll() < wrong {
            let others = DebrisClass::LEARNED.iter().filter(|c| **c != piece.class);
            let others: Vec<_> = others.collect();
            said.class = *others[dice.below(others.len())];
        }
        said
    };
    photo.iter().map(of).collect()
}

/// Brier's score: mean squared distance of the probabilities from what is true; and the calibration error: how far the
/// likeliest class's probability is from how often it is right, over ten bins.
fn judged(photos: &[Vec<Known>], by: Option<&Calibration>) -> [f64; 2] {
    let (mut brier, mut bins) = (0.0, [[0.0; 3]; 10]);
    for piece in photos.iter().flatten() {
        let p = by.map_or_else(|| piece.p.clone(), |by| calibrated_p(&piece.p, by));
        for class in DebrisClass::LEARNED {
            let is = f64::from(u8::from(class == piece.class));
            brier += (p.get(&class).copied().unwrap_or(0.0) - is).powi(2);
        }
        let first = likeliest(&p);
        let bin = &mut bins[((10.0 * p[&first]) as usize).min(9)];
        bin[0] += 1.0;
        bin[1] += p[&first];
        bin[2] += f64::from(u8::from(first == piece.class));
    }
    let n: f64 = bins.iter().map(|bin| bin[0]).sum();
    let error: f64 = bins.iter().map(|bin| (bin[1] - bin[2]).abs()).sum();
    [brier / n, error / n]
}

struct Trial {
    before: [f64; 2],
    after: [f64; 2],
}

/// Learns on half of the photos as technicians confirm them, and is judged by the truth on the other half; so many draws.
fn trials(photos: &[Vec<Known>], wrong: f64, times: u64) -> Vec<Trial> {
    let mut trials = Vec::new();
    for seed in 0..times {
        let mut dice = Dice(seed + 1);
        let mut order = photos.to_vec();
        dice.shuffle(&mut order);
        let (learned, rest) = order.split_at(order.len() / 2);
        let log: Vec<Known> = learned
            .iter()
            .flat_map(|photo| confirmed(photo, wrong, &mut dice))
            .collect();
        // Half of few photos may have too few pieces.
        let Some(by) = calibration(&log) else {
            assert!(log.len() < LEAST_PIECES);
            continue;
        };
        assert_eq!(by.pieces as usize, log.len());
        trials.push(Trial {
            before: judged(rest, None),
            after: judged(rest, Some(&by)),
        });
    }
    assert!(trials.len() as u64 > times / 2);
    trials
}

fn mean(trials: &[Trial], of: impl Fn(&Trial) -> f64) -> f64 {
    trials.iter().map(of).sum::<f64>() / trials.len() as f64
}

/// Mean of Brier's score and of the calibration error, before and after, and how many draws got worse by the first.
fn sums(what: &str, trials: &[Trial]) -> ([f64; 2], [f64; 2], f64) {
    let before = [0, 1].map(|k| mean(trials, |t| t.before[k]));
    let after = [0, 1].map(|k| mean(trials, |t| t.after[k]));
    let worse = mean(trials, |t| f64::from(u8::from(t.after[0] > t.before[0])));
    eprintln!("{what}: {before:.4?} -> {after:.4?}, worse in {worse:.2} of the draws");
    (before, after, worse)
}

#[test]
fn on_a_painter_left_out_it_gets_better() {
    let trials = trials(&third(), 0.1, 40);
    let (before, after, worse) = sums("third painter", &trials);
    assert!(after[0] < before[0] - 0.005, "{before:?} {after:?}");
    assert!(after[1] < before[1] - 0.01, "{before:?} {after:?}");
    assert!(worse <= 0.2, "{worse}");
}

/// So few pieces of photos so unlike each other teach nothing that carries over: it must not hurt either. What the draws
/// differ by among themselves is the noise.
#[test]
fn on_another_it_is_never_worse_beyond_noise() {
    let trials = trials(&second(), 0.1, 40);
    let (before, after, _) = sums("second painter", &trials);
    let noise = |k: usize| {
        let mean = after[k] - before[k];
        let square = |t: &Trial| (t.after[k] - t.before[k] - mean).powi(2);
        (trials.iter().map(square).sum::<f64>() / trials.len() as f64).sqrt()
    };
    for k in [0, 1] {
        let worse = after[k] - before[k];
        assert!(worse < noise(k).min(0.02), "{k}: {before:?} {after:?}");
    }
}

/// The check itself can fail: from technicians who correct every piece wrongly it learns harm, and that shows.
#[test]
fn harm_is_seen() {
    let mut dice = Dice(5);
    let spoilt: Vec<Known> = third()
        .into_iter()
        .flatten()
        .map(|piece| Known {
            class: DebrisClass::LEARNED[dice.below(DebrisClass::LEARNED.len())],
            ..piece
        })
        .collect();
    let by = calibration(&spoilt).unwrap();
    let (before, after) = (judged(&third(), None), judged(&third(), Some(&by)));
    assert!(after[0] > before[0] + 0.02, "{before:?} {after:?}");
    assert!(after[1] > before[1] + 0.05, "{before:?} {after:?}");
}

/// Classes drawn from the probabilities themselves ask for no change; drawn from flatter ones, for that temperature.
#[test]
fn a_temperature_that_was_put_in_comes_out() {
    for (temperature, within) in [(1.0, 0.06), (1.6, 0.12)] {
        let flatter = Calibration {
            temperature,
            bias: BTreeMap::new(),
            pieces: 0,
        };
        let mut dice = Dice(11);
        let mut drawn = Vec::new();
        for piece in third().iter().flatten().cycle().take(4000) {
            let mut left = dice.roll();
            let p = calibrated_p(&piece.p, &flatter);
            let class = p.iter().find(|(_, p)| {
                left -= **p;
                left < 0.0
            });
            let class = class.map_or(piece.class, |(class, _)| *class);
            drawn.push(Known {
                p: piece.p.clone(),
                class,
            });
        }
        let by = calibration(&drawn).unwrap();
        assert!((by.temperature - temperature).abs() < within, "{by:?}");
        assert!(by.bias.values().all(|b| b.abs() < 0.25), "{by:?}");
    }
}

#[test]
fn few_pieces_teach_nothing_and_what_was_calibrated_is_undone() {
    let all: Vec<Known> = third().into_iter().flatten().collect();
    assert_eq!(calibration(&all[..LEAST_PIECES - 1]), None);
    let by = calibration(&all[..LEAST_PIECES]).unwrap();
    for piece in &all {
        let there = calibrated_p(&piece.p, &by);
        assert!(
            (there.values().sum::<f64>() - 1.0).abs() < 0.01,
            "{there:?}"
        );
        let back = before_calibration(&there, &by);
        for (class, p) in &piece.p {
            let again = back.get(class).copied().unwrap_or(0.0);
            assert!((again - p).abs() < 0.02, "{piece:?} {back:?}");
        }
    }
}
