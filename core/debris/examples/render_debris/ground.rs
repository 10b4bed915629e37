//! What the pieces lie on: paper that is soaked or clean, or a pan.

use crate::chance::{Chance, cells, cloud, noise, smooth};
use crate::shape::Point;

pub struct Ground {
    pub pan: bool,
    /// Share of light that the fluid lets through, red, green, blue.
    pub fluid: [f64; 3],
    /// Reflected colour without film or wear.
    pub base: [f64; 3],
    seed: u64,
    /// Size of a stain, mm; how much is stained; how soft its edge is; its depth.
    stain: [f64; 4],
    middle: Point,
    reach: f64,
    kind: usize,
    turn: f64,
    /// Ribs: pitch, width, height of the shading; pitch 0 without.
    ribs: [f64; 3],
    gloss: f64,
    glare: Option<(Point, f64, f64)>,
    lines: Vec<(Point, Point, f64, f64)>,
    pub grain: f64,
}

pub fn fluid(chance: &mut Chance) -> [f64; 3] {
    let kinds = [
        [0.78, 0.16, 0.14],
        [0.72, 0.36, 0.18],
        [0.55, 0.3, 0.17],
        [0.34, 0.25, 0.18],
        [0.8, 0.3, 0.24],
        [0.8, 0.6, 0.3],
    ];
    kinds[chance.below(kinds.len())].map(|v| (v * chance.from(0.85, 1.15)).min(0.95))
}

impl Ground {
    /// Of which some `half` mm are seen to each side.
    pub fn new(chance: &mut Chance, pan: bool, half: f64) -> Ground {
        let grey = if pan {
            chance.log(0.18, 0.75)
        } else {
            chance.from(0.66, 0.88)
        };
        let warm = chance.from(-0.05, if pan { 0.06 } else { 0.12 });
        let spot = |chance: &mut Chance| [chance.from(-half, half), chance.from(-half, half)];
        let lines = (0..chance.below(if pan { 12 } else { 5 }))
            .map(|_| {
                let (a, b) = (spot(chance), spot(chance));
                let b = if chance.is(0.6) {
                    [a[0] + 0.15 * b[0], a[1] + 0.15 * b[1]]
                } else {
                    b
                };
                (a, b, chance.log(0.06, 0.3), chance.from(-0.35, 0.3))
            })
            .collect();
        Ground {
            pan,
            fluid: fluid(chance),
            base: [grey * (1.0 + warm), grey, grey * (1.0 - warm)],
            seed: chance.next(),
            stain: [
                chance.log(6.0, 30.0),
                chance.from(0.3, 0.62),
                chance.log(0.03, 0.35),
                chance.from(0.2, 2.3),
            ],
            middle: [chance.from(-20.0, 20.0), chance.from(-20.0, 20.0)],
            reach: chance.from(15.0, 60.0),
            kind: chance.below(3),
            turn: chance.from(0.0, 3.1),
            ribs: if pan && chance.is(0.6) {
                [
                    chance.from(18.0, 45.0),
                    chance.from(3.0, 7.0),
                    chance.from(0.3, 0.9),
                ]
            } else {
                [0.0; 3]
            },
            gloss: chance.from(0.0, 0.5),
            glare: (pan && chance.is(0.6))
                .then(|| (spot(chance), chance.from(10.0, 30.0), chance.from(0.3, 2.0))),
            lines,
            grain: chance.log(0.015, 0.07),
        }
    }

    /// Reflected colour at a place, mm; what changes over some 0.3 mm or more.
    pub fn colour(&self, [x, y]: Point) -> [f64; 3] {
        let s = self.seed;
        let (sin, cos) = self.turn.sin_cos();
        let (u, v) = (x * cos + y * sin, y * cos - x * sin);
        let mut bright = 1.0;
        if self.pan {
            bright *= match self.kind {
                0 => 0.75 + 0.5 * cells(u / 4.0, v / 4.0, s ^ 3),
                1 => {
                    0.8 + 0.25 * noise(u / 6.0, v * 2.0, s ^ 4)
                        + 0.15 * noise(u / 3.0, v * 5.0, s ^ 5)
                }
                _ => 0.75 + 0.5 * cloud(u / 12.0, v / 12.0, 4, s ^ 6),
            };
            let [pitch, width, high] = self.ribs;
            if pitch > 0.0 {
                let across = (v / pitch - (v / pitch).floor() - 0.5) * pitch;
                let along = noise(u / 40.0, (v / pitch).floor(), s ^ 8);
                if across.abs() < width && along > 0.25 {
                    let t = across / width;
                    bright *= 1.0
                        + high
                            * ((t * crate::chance::TURN).sin() * (1.0 - t * t)
                                + 0.8 * self.gloss * smooth(0.3, 0.0, (t - 0.2).abs()));
                }
            }
        } else {
            bright *= 0.97 + 0.06 * cloud(x / 15.0, y / 15.0, 3, s ^ 9);
        }
        for (a, b, wide, deep) in &self.lines {
            let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
            let t =
                (((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy + 1e-9)).clamp(0.0, 1.0);
            let away = (x - a[0] - t * dx).hypot(y - a[1] - t * dy);
            bright *= 1.0 + deep * smooth(*wide, 0.3 * wide, away);
        }
        let [size, share, soft, deep] = self.stain;
        let far = smooth(
            1.25,
            0.75,
            (x - self.middle[0]).hypot(y - self.middle[1]) / self.reach,
        );
        let field = cloud(x / size, y / size, 5, s ^ 1)
            + 0.35 * (far - 1.0) * f64::from(u8::from(!self.pan));
        let wet = smooth(share - soft, share + soft, field);
        let depth = deep * wet * (0.55 + 0.9 * cloud(x / size * 2.3, y / size * 2.3, 4, s ^ 2));
        let mut out: [f64; 3] =
            std::array::from_fn(|k| self.base[k] * bright * self.fluid[k].powf(depth));
        if let Some((at, wide, strong)) = self.glare {
            let d = (x - at[0]).hypot(y - at[1]) / wide;
            for v in &mut out {
                *v += strong * (-d * d * 2.0).exp() * (0.6 + 0.4 * wet) * 0.7;
            }
        }
        out
    }
}
