//! The closed form of the interval against draws of a fixed seed, and what it covers.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use std::collections::BTreeMap;

use common::{cover, observed, pan_of, photo, piece};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_wear::stats::garwood;
use swarfbook_wear::{
    Evidence, HazardTable, LengthMm, Observation, ParticleSeen, Paste, PhotoSeen, assess,
};

/// Steele, Lea and Flood's SplitMix64 (2014): small, and the same everywhere.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn exponential(&mut self) -> f64 {
        -(1.0 - self.uniform()).ln()
    }
    fn normal(&mut self) -> f64 {
        let radius = (2.0 * self.exponential()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
    fn poisson(&mut self, mean: f64) -> usize {
        let mut left = mean;
        let mut n = 0;
        loop {
            left -= self.exponential();
            if left < 0.0 {
                return n;
            }
            n += 1;
        }
    }
}

fn k(table: &HazardTable, class: DebrisClass, mm: f64) -> f64 {
    let rows = table.debris.iter().filter(|row| row.class == class);
    rows.take_while(|row| row.from_mm <= mm)
        .last()
        .map_or(0.0, |row| row.k)
}

fn unsure(class: DebrisClass, other: DebrisClass, own: f64, mm: f64, u: f64) -> ParticleSeen {
    ParticleSeen {
        class,
        p: BTreeMap::from([(class, own), (other, 1.0 - own)]),
        feret_max: Some(LengthMm {
            mm,
            lo: mm * (1.0 - u),
            hi: mm * (1.0 + u),
        }),
        real: None,
        compact: None,
        at: None,
    }
}

/// 90 % of the score by drawing: the rate behind each piece (gamma, so that
/// equal pieces give Garwood), its class, one scale for all, the cover, and for
/// the upper end one piece more of the heaviest kind.
fn drawn(evidence: &Evidence, table: &HazardTable, paste: Option<(f64, f64, f64)>) -> (f64, f64) {
    let mut draws = Draws(20_240_229);
    let pieces: Vec<&ParticleSeen> = evidence.photos.iter().flat_map(|p| &p.particles).collect();
    let heaviest = pieces
        .iter()
        .map(|piece| k(table, piece.class, piece.feret_max.unwrap().mm))
        .fold(table.unseen.k, f64::max);
    let mut without = Vec::new();
    let mut with = Vec::new();
    for _ in 0..40_000 {
        let scale = draws.normal() / 1.645;
        let mut hazard = 0.0;
        for piece in &pieces {
            let length = piece.feret_max.unwrap();
            let half = if scale > 0.0 {
                length.hi - length.mm
            } else {
                length.mm - length.lo
            };
            let mut at = draws.uniform();
            let class = piece.p.iter().find(|(_, p)| {
                at -= **p;
                at < 0.0
            });
            let class = class.map_or(piece.class, |(class, _)| *class);
            hazard += k(table, class, length.mm + scale * half) * draws.exponential();
        }
        if let Some((films, share, half)) = paste {
            let share = (share + draws.normal() / 1.645 * half).clamp(0.0, 1.0);
            let row = &table.paste;
            let beyond = films * (row.bare + (1.0 - row.bare) * share) - 60_000.0 / row.km_per_film;
            hazard += row.k * beyond.max(0.0);
        }
        without.push(hazard);
        with.push(hazard + heaviest * draws.exponential());
    }
    let quantile = |mut values: Vec<f64>, q: f64| {
        values.sort_by(f64::total_cmp);
        let hazard = values[(q * values.len() as f64) as usize];
        100.0 * (1.0 - (-hazard).exp())
    };
    (quantile(without, 0.05), quantile(with, 0.95))
}

/// Exposure 1 in all: 60,000 km, 120 cm² of patch, and the rows have no cap.
#[test]
fn closed_form_agrees_with_draws() {
    use DebrisClass::{LightMetal, Lining, Plastic, SteelFlake, SteelSliver, YellowMetal};
    let table = HazardTable::built_in().unwrap();
    let mut thick = pan_of(60_000.0, vec![piece(SteelFlake, 0.7); 8]);
    let paste = Paste::ThickPaste;
    thick
        .observations
        .push(observed("felt", Observation::Paste { paste }));
    thick.photos.push(PhotoSeen {
        cover: Some(cover(0.6)),
        ..photo("magnet", PhotoKind::Magnet)
    });
    let mixed = [
        vec![unsure(SteelFlake, LightMetal, 0.7, 0.6, 0.05); 9],
        vec![unsure(YellowMetal, SteelFlake, 0.9, 1.4, 0.05); 2],
        vec![unsure(Plastic, Lining, 0.6, 2.4, 0.05); 3],
    ];
    let pans = [
        ("nothing", pan_of(60_000.0, Vec::new()), None),
        (
            "one flake",
            pan_of(60_000.0, vec![piece(SteelFlake, 0.7)]),
            None,
        ),
        (
            "twenty flakes",
            pan_of(60_000.0, vec![piece(SteelFlake, 0.7); 20]),
            None,
        ),
        (
            "slivers",
            pan_of(60_000.0, vec![piece(SteelSliver, 1.5); 3]),
            None,
        ),
        ("paste", thick, Some((table.paste.thick, 0.6, 0.04))),
        (
            "mixed, classes unsure",
            pan_of(60_000.0, mixed.concat()),
            None,
        ),
        (
            "sizes at a limit",
            pan_of(
                60_000.0,
                vec![unsure(SteelFlake, SteelFlake, 1.0, 0.98, 0.06); 6],
            ),
            None,
        ),
    ];
    for (name, evidence, paste) in pans {
        let got = assess(&evidence, &table).unwrap();
        let (lo, hi) = drawn(&evidence, &table, paste);
        println!(
            "{name}: {:.1} to {:.1}, drawn {lo:.1} to {hi:.1}",
            got.score_lo, got.score_hi
        );
        // Hardly narrower than drawn, and not needlessly wide.
        let (below, above) = (lo - got.score_lo, got.score_hi - hi);
        assert!((-1.0..4.0).contains(&below), "{name}: {below} below");
        assert!((-1.0..4.0).contains(&above), "{name}: {above} above");
    }
}

/// Equal pieces of one class and no other doubt: Garwood's interval times k.
#[test]
fn equal_pieces_give_garwood() {
    let table = HazardTable::built_in().unwrap();
    for n in [1_u32, 3, 10, 25] {
        let mut sure = piece(DebrisClass::SteelFlake, 0.7);
        sure.feret_max = Some(LengthMm {
            mm: 0.7,
            lo: 0.7,
            hi: 0.7,
        });
        let got = assess(&pan_of(60_000.0, vec![sure; n as usize]), &table).unwrap();
        let (lo, hi) = garwood(n, 0.90);
        let weight = k(&table, DebrisClass::SteelFlake, 0.7);
        let score = |n: f64| 100.0 * (1.0 - (-weight * n).exp());
        assert!((got.score_lo - score(lo)).abs() < 1e-6, "{n}");
        assert!((got.score_hi - score(hi)).abs() < 1e-6, "{n}");
    }
}

/// Pans drawn from known rates: the interval holds the true hazard in at least
/// 90 of 100. Where nothing heavy happens to be seen, the upper end reckons with
/// a small flake only, so a mean of about one heavy piece is the hardest.
#[test]
fn the_interval_covers_what_it_says() {
    use DebrisClass::{Plastic, SteelFlake, YellowMetal};
    let table = HazardTable::built_in().unwrap();
    let mut draws = Draws(7);
    for rates in [
        [
            (SteelFlake, 0.7, 1.0),
            (YellowMetal, 0.7, 0.5),
            (Plastic, 0.7, 2.0),
        ],
        [
            (SteelFlake, 0.7, 6.0),
            (YellowMetal, 1.4, 2.0),
            (Plastic, 2.4, 3.0),
        ],
        [
            (SteelFlake, 1.4, 4.0),
            (YellowMetal, 0.7, 9.0),
            (Plastic, 0.7, 15.0),
        ],
    ] {
        let truth: f64 = rates
            .iter()
            .map(|(c, mm, rate)| k(&table, *c, *mm) * rate)
            .sum();
        let truth = 100.0 * (1.0 - (-truth).exp());
        let trials = 1_500;
        let mut held = 0;
        for _ in 0..trials {
            let mut pieces = Vec::new();
            for (class, mm, rate) in rates {
                pieces.extend(vec![piece(class, mm); draws.poisson(rate)]);
            }
            let got = assess(&pan_of(60_000.0, pieces), &table).unwrap();
            held += usize::from(got.score_lo <= truth && truth <= got.score_hi);
        }
        let share = held as f64 / f64::from(trials);
        println!("{rates:?}: {share:.3}");
        assert!(share >= 0.90, "{rates:?}: {share}");
    }
}

/// Doubt never narrows: in the class, in the size, in the distance.
#[test]
fn doubt_widens() {
    use DebrisClass::{LightMetal, SteelFlake};
    let table = HazardTable::built_in().unwrap();
    let width = |evidence: &Evidence| {
        let got = assess(evidence, &table).unwrap();
        got.score_hi - got.score_lo
    };
    let sure = pan_of(
        60_000.0,
        vec![unsure(SteelFlake, SteelFlake, 1.0, 0.9, 0.0); 6],
    );
    let class = pan_of(
        60_000.0,
        vec![unsure(SteelFlake, LightMetal, 0.6, 0.9, 0.0); 6],
    );
    let size = pan_of(
        60_000.0,
        vec![unsure(SteelFlake, SteelFlake, 1.0, 0.9, 0.2); 6],
    );
    let mut distance = sure.clone();
    distance.km_since_clean = None;
    distance.odometer_km = Some(180_000.0);
    assert!(width(&size) > width(&sure));
    assert!(width(&distance) > width(&sure));
    // The other class is lighter, so the lower end falls; the score is the confirmed class's.
    let lo = |evidence: &Evidence| assess(evidence, &table).unwrap().score_lo;
    assert!(lo(&class) < lo(&sure));
}
