//! Patches that were never photographed: pieces strewn over paper by chance, and what a census makes of them.

#![allow(clippy::unwrap_used)] // in helpers of tests, too
#![allow(dead_code)] // each file of tests uses its own part

use std::collections::BTreeMap;

use swarfbook_debris::patch::contains;
use swarfbook_job::census::{
    CardFound, Census, DebrisClass, Particle, PhotoKind, PointPx, Scale, ScaleFrom, SizeClass,
};

/// A small generator (Knuth's MMIX constants), so that the draws are the same everywhere.
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn normal(&mut self) -> f64 {
        (-2.0 * (1.0 - self.roll()).ln()).sqrt() * (std::f64::consts::TAU * self.roll()).cos()
    }
}

#[derive(Clone)]
pub struct Real {
    pub at_mm: [f64; 2],
    pub feret_mm: f64,
    pub class: DebrisClass,
}

impl Real {
    pub fn steel(&self) -> bool {
        matches!(
            self.class,
            DebrisClass::SteelFlake | DebrisClass::SteelSliver
        )
    }
}

/// Pieces strewn over 150 by 100 mm of paper, small ones more than large ones.
pub fn strewn(dice: &mut Dice, n: usize) -> Vec<Real> {
    let classes = [
        DebrisClass::SteelFlake,
        DebrisClass::SteelSliver,
        DebrisClass::LightMetal,
        DebrisClass::Lining,
        DebrisClass::Plastic,
    ];
    (0..n)
        .map(|_| Real {
            at_mm: [150.0 * dice.roll(), 100.0 * dice.roll()],
            feret_mm: (0.35 * (0.7 * dice.normal().abs()).exp()).min(4.0),
            class: classes[(dice.roll() * classes.len() as f64) as usize],
        })
        .collect()
}

/// How a photo is taken: turn of the paper under the camera, where its middle lies, where the card
/// lies in the picture and how it is turned, and how well the census reads it.
#[derive(Clone, Copy)]
pub struct Taken {
    pub turn_deg: f64,
    pub middle_mm: [f64; 2],
    pub card_px: [f64; 2],
    pub card_turn_deg: f64,
    pub place_mm: f64,
    pub size_ln: f64,
    pub missed: f64,
    pub invented: usize,
}

pub const PLAIN: Taken = Taken {
    turn_deg: 0.0,
    middle_mm: [75.0, 50.0],
    card_px: [100.0, 100.0],
    card_turn_deg: 0.0,
    place_mm: 0.08,
    size_ln: 0.08,
    missed: 0.04,
    invented: 2,
};

pub const PX_PER_MM: f64 = 19.0;
pub const SIZE_PX: [f64; 2] = [3264.0, 2448.0];

pub fn turned(by_deg: f64, [x, y]: [f64; 2]) -> [f64; 2] {
    let (s, c) = by_deg.to_radians().sin_cos();
    [c * x - s * y, s * x + c * y]
}

/// What a census makes of the pieces, with the number of each in `real`.
pub fn taken(dice: &mut Dice, real: &[Real], how: Taken) -> (Census, Vec<Option<usize>>) {
    let to_px = |at: [f64; 2]| {
        let off = turned(
            how.turn_deg,
            [at[0] - how.middle_mm[0], at[1] - how.middle_mm[1]],
        );
        [
            SIZE_PX[0] / 2.0 + PX_PER_MM * off[0],
            SIZE_PX[1] / 2.0 + PX_PER_MM * off[1],
        ]
    };
    let corner = |mm: [f64; 2]| {
        let off = turned(how.card_turn_deg, mm);
        [
            how.card_px[0] + PX_PER_MM * off[0],
            how.card_px[1] + PX_PER_MM * off[1],
        ]
    };
    let corners_px = [[0.0, 0.0], [85.6, 0.0], [85.6, 53.98], [0.0, 53.98]].map(corner);
    let seen = |[x, y]: PointPx, feret_mm: f64| {
        let side = feret_mm / 2.0 * PX_PER_MM;
        x > side
            && y > side
            && x < SIZE_PX[0] - side
            && y < SIZE_PX[1] - side
            && !contains(&corners_px, [x, y])
    };
    let mut particles = Vec::new();
    let mut which = Vec::new();
    for (number, piece) in real.iter().enumerate() {
        let noisy = piece.at_mm.map(|v| v + how.place_mm * dice.normal());
        let at = to_px(noisy);
        if seen(at, piece.feret_mm) && dice.roll() >= how.missed {
            let feret_mm = piece.feret_mm * (how.size_ln * dice.normal()).exp();
            particles.push(particle(at, feret_mm, &looks(dice, piece.class)));
            which.push(Some(number));
        }
    }
    for _ in 0..how.invented {
        let at = [SIZE_PX[0] * dice.roll(), SIZE_PX[1] * dice.roll()];
        if seen(at, 0.4) {
            particles.push(particle(at, 0.4, &looks(dice, DebrisClass::Lining)));
            which.push(None);
        }
    }
    let census = Census {
        kind: PhotoKind::Patch,
        size_px: Some(SIZE_PX.map(|v| v as u32)),
        problem: None,
        limits: Vec::new(),
        card: Some(CardFound { corners_px }),
        scale: Some(Scale {
            px_per_mm: PX_PER_MM,
            u_rel: 0.003,
            from: ScaleFrom::Card,
        }),
        smallest_mm: Some(0.26),
        searched_cm2: Some(
            SIZE_PX[0] * SIZE_PX[1] / PX_PER_MM.powi(2) / 100.0 - 85.6 * 53.98 / 100.0,
        ),
        particles,
        counts: BTreeMap::new(),
        magnet: None,
        fluid: None,
        unusual: None,
        doubt: None,
        calibration: None,
        lens: None,
    };
    (census, which)
}

/// The right class has 0.75 on average and light metal looks like steel.
pub fn looks(dice: &mut Dice, class: DebrisClass) -> BTreeMap<DebrisClass, f64> {
    let sure = 0.5 + 0.5 * dice.roll();
    let other = match class {
        DebrisClass::LightMetal | DebrisClass::SteelSliver => DebrisClass::SteelFlake,
        DebrisClass::SteelFlake => DebrisClass::LightMetal,
        _ => DebrisClass::Grit,
    };
    [(class, sure), (other, 1.0 - sure)].into()
}

pub fn particle([x, y]: PointPx, feret_mm: f64, p: &BTreeMap<DebrisClass, f64>) -> Particle {
    let (a, b) = (feret_mm / 2.0 * PX_PER_MM, feret_mm / 4.0 * PX_PER_MM);
    let outline = (0..24).map(|i| f64::from(i) / 24.0 * std::f64::consts::TAU);
    Particle {
        x_px: x,
        y_px: y,
        class: *p.iter().max_by(|a, b| a.1.total_cmp(b.1)).unwrap().0,
        p: p.clone(),
        feret_max_mm: feret_mm,
        feret_max_lo: feret_mm * 0.95,
        feret_max_hi: feret_mm * 1.05,
        feret_min_mm: feret_mm / 2.0,
        area_mm2: std::f64::consts::PI * feret_mm * feret_mm / 8.0,
        iso16232: SizeClass::of_feret_max_mm(feret_mm).unwrap(),
        outline_px: outline
            .map(|t| [x + a * t.cos(), y + b * t.sin()])
            .collect(),
        real: None,
    }
}
