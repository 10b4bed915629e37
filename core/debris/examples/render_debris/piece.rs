//! Pieces of the nine classes: shape, colour, gloss; and drops, which are none.

use crate::chance::{Chance, cells, cloud, noise, smooth};
use crate::shape::{Point, grain, lump, strip};

#[derive(Clone, Copy, PartialEq)]
pub enum Surface {
    /// Facets that mirror light or dark.
    Metal,
    /// Rough and dull, with fibres.
    Rough,
    /// Smooth, with a highlight of this strength.
    Smooth(f64),
    /// Fluid: the ground shows through.
    Drop,
}

pub struct Piece {
    /// The trade's class; none for what is no particle.
    pub class: Option<&'static str>,
    pub outline: Vec<Point>,
    /// Height above the ground, mm.
    pub tall: f64,
    pub colour: [f64; 3],
    pub surface: Surface,
    /// How it lies: the slope of its whole face, and how much of its rounding is left: pressed flakes
    /// are flat, and mirror as one.
    pub lean: Point,
    pub round: f64,
    /// How rough the surface is, and how strongly it mirrors.
    pub rough: f64,
    pub shine: f64,
    /// Cells of texture per mm.
    pub fine: f64,
    pub seed: u64,
}

fn tinted(chance: &mut Chance, [r, g, b]: [f64; 3], by: f64) -> [f64; 3] {
    let all = 1.0 + by * chance.normal();
    [r, g, b].map(|v| (v * (all + 0.5 * by * chance.normal())).clamp(0.004, 0.95))
}

/// A piece of a class, `size` mm long (before its waves).
pub fn piece(chance: &mut Chance, class: &'static str, size: f64) -> Piece {
    let aspect = chance.from(0.42, 0.95);
    let flake = |chance: &mut Chance| {
        let (wavy, ragged) = (
            chance.from(0.02, 0.14),
            if chance.is(0.4) {
                chance.from(0.0, 0.09)
            } else {
                0.0
            },
        );
        lump(chance, size, aspect, wavy, ragged)
    };
    let flat = (size * chance.from(0.05, 0.28)).min(0.8);
    let seed = chance.next();
    let metal = |outline, colour, chance: &mut Chance| {
        let pressed = chance.is(0.4);
        Piece {
            class: Some(class),
            outline,
            tall: flat,
            colour,
            surface: Surface::Metal,
            lean: [0.2 * chance.normal(), 0.2 * chance.normal()],
            round: if pressed { 0.25 } else { 1.0 },
            rough: if pressed {
                chance.log(0.02, 0.3)
            } else {
                chance.from(0.3, 1.6)
            },
            shine: chance.log(0.3, 3.0),
            fine: chance.log(1.5, 9.0),
            seed,
        }
    };
    let dull = |outline, colour, surface, tall, chance: &mut Chance| Piece {
        class: Some(class),
        outline,
        tall,
        colour,
        surface,
        lean: [0.0; 2],
        round: 1.0,
        rough: chance.from(0.1, 0.8),
        shine: 0.0,
        fine: chance.log(3.0, 12.0),
        seed,
    };
    match class {
        "steel_flake" => {
            let grey = chance.log(0.09, 0.42);
            let colour = tinted(chance, [grey, grey, grey * 1.02], 0.05);
            let outline = flake(chance);
            metal(outline, colour, chance)
        }
        "light_metal" => {
            let grey = chance.from(0.38, 0.8);
            let colour = tinted(chance, [grey, grey, grey * 1.02], 0.03);
            let outline = flake(chance);
            metal(outline, colour, chance)
        }
        "yellow_metal" => {
            let base = if chance.is(0.3) {
                [0.62, 0.30, 0.17]
            } else {
                [0.60, 0.42, 0.13]
            };
            let bright = chance.log(0.6, 1.25);
            let colour = tinted(chance, base.map(|v| v * bright), 0.10);
            let outline = flake(chance);
            metal(outline, colour, chance)
        }
        "steel_sliver" => {
            let grey = chance.log(0.09, 0.4);
            let colour = tinted(chance, [grey, grey, grey], 0.05);
            let width = (size * chance.from(0.05, 0.16)).clamp(0.08, 0.5);
            let (turn, length) = match chance.below(4) {
                0 => (chance.from(2.0, 5.6), size * 2.0),
                1 => (chance.from(0.8, 2.0), size * 1.2),
                _ => (chance.from(-0.5, 0.5), size * 1.5),
            };
            let taper = chance.is(0.6);
            let outline = strip(chance, length, width, turn, 0.012, taper);
            let mut sliver = metal(outline, colour, chance);
            sliver.tall = width * chance.from(0.4, 1.2);
            sliver
        }
        "lining" => {
            // Worn and burnt, or still the tan of the material.
            let (dark, warm) = if chance.is(0.7) {
                (chance.log(0.012, 0.07), chance.from(0.0, 0.35))
            } else {
                (chance.log(0.05, 0.2), chance.from(0.1, 0.5))
            };
            let colour = tinted(
                chance,
                [dark * (1.0 + warm), dark, dark * (1.0 - warm)],
                0.06,
            );
            let (wavy, ragged) = (chance.from(0.05, 0.16), chance.from(0.03, 0.14));
            let outline = lump(chance, size, aspect, wavy, ragged);
            let tall = size * chance.from(0.12, 0.5);
            dull(outline, colour, Surface::Rough, tall, chance)
        }
        "plastic" => {
            let bases = [
                [0.03, 0.26, 0.08],
                [0.04, 0.08, 0.32],
                [0.45, 0.22, 0.05],
                [0.5, 0.46, 0.36],
                [0.03, 0.03, 0.035],
                [0.4, 0.05, 0.03],
                [0.55, 0.56, 0.55],
                [0.35, 0.3, 0.1],
            ];
            let base = bases[chance.below(bases.len())];
            let colour = tinted(chance, base, 0.15);
            let outline = if chance.is(0.5) {
                grain(chance, size, aspect)
            } else {
                lump(chance, size, aspect, 0.05, 0.02)
            };
            let (tall, gloss) = (size * chance.from(0.15, 0.6), chance.from(0.0, 0.35));
            dull(outline, colour, Surface::Smooth(gloss), tall, chance)
        }
        "elastomer" => {
            let bases = [
                [0.022, 0.024, 0.027],
                [0.022, 0.024, 0.027],
                [0.045, 0.05, 0.06],
                [0.42, 0.06, 0.03],
                [0.03, 0.06, 0.3],
            ];
            let base = bases[chance.below(bases.len())];
            let colour = tinted(chance, base, 0.12);
            let outline = match chance.below(3) {
                0 => {
                    let turn = chance.from(0.3, 3.6);
                    strip(chance, size * 1.3, size * 0.3, turn, 0.01, true)
                }
                1 => strip(chance, size, size * 0.45, 0.3, 0.01, true),
                _ => lump(chance, size, aspect, 0.08, 0.03),
            };
            let (tall, gloss) = (size * chance.from(0.2, 0.5), chance.from(0.0, 0.25));
            dull(outline, colour, Surface::Smooth(gloss), tall, chance)
        }
        "grit" => {
            let bright = chance.log(0.14, 0.6);
            let warm = chance.from(0.0, 0.3);
            let colour = tinted(
                chance,
                [bright * (1.0 + warm), bright, bright * (1.0 - 1.3 * warm)],
                0.05,
            );
            let outline = grain(chance, size * 0.95, aspect.max(0.6));
            let (tall, gloss) = (size * chance.from(0.3, 0.7), chance.from(0.0, 0.2));
            dull(outline, colour, Surface::Smooth(gloss), tall, chance)
        }
        _ => {
            let bases = [
                [0.5, 0.5, 0.5],
                [0.1, 0.12, 0.3],
                [0.35, 0.06, 0.05],
                [0.05, 0.05, 0.05],
                [0.3, 0.28, 0.25],
            ];
            let base = bases[chance.below(bases.len())];
            let colour = tinted(chance, base, 0.15);
            let width = chance.from(0.04, 0.09);
            let outline = strip(chance, size * 1.4, width, 0.0, 0.09, false);
            dull(outline, colour, Surface::Smooth(0.0), 0.05, chance)
        }
    }
}

/// A drop of fluid.
pub fn drop(chance: &mut Chance, fluid: [f64; 3]) -> Piece {
    let size = chance.log(0.4, 7.0);
    let depth = chance.from(0.5, 2.6);
    Piece {
        class: None,
        outline: {
            let (aspect, wavy) = (chance.from(0.7, 1.0), chance.log(0.02, 0.15));
            lump(chance, size, aspect, wavy, 0.0)
        },
        tall: chance.from(0.05, 0.25) * size.min(2.0),
        colour: fluid.map(|v| v.powf(depth)),
        surface: Surface::Drop,
        lean: [0.0; 2],
        round: 1.0,
        // How much of the room it mirrors.
        rough: if chance.is(0.6) {
            chance.log(0.05, 0.9)
        } else {
            0.0
        },
        shine: if chance.is(0.75) {
            chance.from(0.3, 1.5)
        } else {
            0.0
        },
        fine: chance.log(1.2, 5.0),
        seed: chance.next(),
    }
}

/// Light at a place of a piece: its reflected colour for unit light. `high` is how far up the
/// rounded edge the place is (0 rim, 1 top), `slope` its outward slope, mm and px apart.
pub fn colour_at(
    p: &Piece,
    mm: Point,
    high: f64,
    slope: Point,
    light: [f64; 3],
    ground: [f64; 3],
) -> [f64; 3] {
    let f = p.fine;
    let bump = |x: f64, y: f64| cloud(x * f, y * f, 2, p.seed);
    let e = 0.25 / f;
    let rough = match p.surface {
        Surface::Metal => 1.6 * p.rough,
        Surface::Rough => 1.3 * p.rough,
        Surface::Smooth(_) => 0.35 * p.rough,
        Surface::Drop => 0.0,
    };
    let [x, y] = mm;
    // Every other metal has facets rather than waves.
    let facet = match p.surface {
        Surface::Metal if p.seed.is_multiple_of(2) => {
            [1, 2].map(|k| 1.5 * p.rough * (cells(x * f, y * f, p.seed ^ k) - 0.5))
        }
        _ => [0.0; 2],
    };
    let n = [
        p.lean[0] + p.round * slope[0] + facet[0]
            - rough * (bump(x + e, y) - bump(x - e, y)) / (2.0 * e * f),
        p.lean[1] + p.round * slope[1] + facet[1]
            - rough * (bump(x, y + e) - bump(x, y - e)) / (2.0 * e * f),
        1.0,
    ];
    let length = (n[0] * n[0] + n[1] * n[1] + 1.0).sqrt();
    let n = n.map(|v| v / length);
    let dot = n[0] * light[0] + n[1] * light[1] + n[2] * light[2];
    // The mirrored view direction against the light: a highlight.
    let mirrored = [
        2.0 * n[2] * n[0],
        2.0 * n[2] * n[1],
        2.0 * n[2] * n[2] - 1.0,
    ];
    let along = (0..3).map(|k| mirrored[k] * light[k]).sum::<f64>().max(0.0);
    match p.surface {
        Surface::Metal => {
            let sky = 0.35 + 0.65 * smooth(0.2, 1.0, mirrored[2]);
            let streak = 0.75 + 0.5 * noise(x * f * 0.7, y * f * 3.0, p.seed ^ 5);
            let v = streak * (0.45 * sky + 0.55 * dot.max(0.0)) + p.shine * along.powi(10);
            p.colour
                .map(|c| c * v + 0.08 * c * p.shine * along.powi(40))
        }
        Surface::Rough => {
            let v = 0.35 + 0.75 * dot.max(0.0) + 0.9 * p.rough * (bump(x * 1.7, y * 1.7) - 0.5);
            p.colour
                .map(|c| c * v.max(0.15) + 0.01 * p.rough * along.powi(6))
        }
        Surface::Smooth(gloss) => {
            let v = 0.35 + 0.7 * dot.max(0.0) + 0.25 * p.rough * (bump(x, y) - 0.5);
            p.colour.map(|c| c * v.max(0.1) + gloss * along.powi(30))
        }
        Surface::Drop => {
            let rim = 0.55 + 0.45 * high;
            // Windows and lamps of the room, bent by the drop's skin, which is not quite even.
            let skin = |k: u64| 0.5 * noise(x * 0.9, y * 0.9, p.seed ^ k);
            let [u, v] = [
                (mirrored[0] + skin(7)) * p.fine,
                (mirrored[1] + skin(8)) * p.fine,
            ];
            let room = p.rough * smooth(0.5, 0.6, cloud(u, v, 3, p.seed ^ 9));
            std::array::from_fn(|k| ground[k] * p.colour[k] * rim + room + p.shine * along.powi(60))
        }
    }
}
