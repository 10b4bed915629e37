//! Outlines of pieces, mm around their own middle.

use std::f64::consts::TAU;

use crate::chance::Chance;

pub type Point = [f64; 2];

/// A rounded or ragged lump: waves around an ellipse, `ragged` adds teeth.
pub fn lump(chance: &mut Chance, size: f64, aspect: f64, wavy: f64, ragged: f64) -> Vec<Point> {
    let waves: Vec<(f64, f64, f64)> = (2..7)
        .map(|k| {
            (
                f64::from(k),
                wavy * chance.normal() / f64::from(k).sqrt(),
                chance.from(0.0, TAU),
            )
        })
        .collect();
    let n = 48;
    (0..n)
        .map(|i| {
            let t = f64::from(i) * TAU / f64::from(n);
            let wave: f64 = waves.iter().map(|(k, a, p)| a * (k * t + p).cos()).sum();
            let r = size / 2.0 * (1.0 + wave + ragged * chance.normal()).clamp(0.35, 1.7);
            [r * t.cos(), r * aspect * t.sin()]
        })
        .collect()
}

/// A broken grain: few straight sides.
pub fn grain(chance: &mut Chance, size: f64, aspect: f64) -> Vec<Point> {
    let n = 5 + chance.below(5);
    (0..n)
        .map(|i| {
            let t = (i as f64 + chance.from(-0.35, 0.35)) * TAU / n as f64;
            let r = size / 2.0 * chance.from(0.8, 1.1);
            [r * t.cos(), r * aspect * t.sin()]
        })
        .collect()
}

/// A strip along an arc of `turn` radians, tapered at its ends; `wild` bends it to and fro.
pub fn strip(
    chance: &mut Chance,
    length: f64,
    width: f64,
    turn: f64,
    wild: f64,
    taper: bool,
) -> Vec<Point> {
    let n = 28;
    let (mut heading, mut at) = (0.0, [0.0, 0.0]);
    let (mut left, mut right) = (Vec::new(), Vec::new());
    let mut bend = 0.0;
    for i in 0..=n {
        let s = f64::from(i) / f64::from(n);
        let ends = (4.0 * s * (1.0 - s)).sqrt();
        let w = 0.5 * width * if taper { 0.25 + 0.75 * ends } else { 1.0 };
        let across = [-f64::sin(heading) * w, f64::cos(heading) * w];
        left.push([at[0] + across[0], at[1] + across[1]]);
        right.push([at[0] - across[0], at[1] - across[1]]);
        bend = 0.8 * bend + wild * chance.normal();
        heading += turn / f64::from(n) + bend;
        let step = length / f64::from(n);
        at = [at[0] + step * heading.cos(), at[1] + step * heading.sin()];
    }
    right.reverse();
    left.extend(right);
    left
}

/// Moved to its middle, turned, and set at a place.
pub fn placed(points: &[Point], angle: f64, at: Point) -> Vec<Point> {
    let n = points.len().max(1) as f64;
    let middle = points
        .iter()
        .fold([0.0, 0.0], |m, p| [m[0] + p[0] / n, m[1] + p[1] / n]);
    let (s, c) = angle.sin_cos();
    points
        .iter()
        .map(|p| {
            let (x, y) = (p[0] - middle[0], p[1] - middle[1]);
            [at[0] + c * x - s * y, at[1] + s * x + c * y]
        })
        .collect()
}

/// Least and greatest width over all directions, and the area.
pub fn extent(points: &[Point]) -> (f64, f64, f64) {
    let width = |t: f64| {
        let along = points.iter().map(|p| p[0] * t.cos() + p[1] * t.sin());
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| {
            (l.min(v), h.max(v))
        });
        high - low
    };
    let widths = (0..360).map(|i| width(f64::from(i) * TAU / 720.0));
    let (min, max) = widths.fold((f64::INFINITY, 0f64), |(l, h), v| (l.min(v), h.max(v)));
    let n = points.len();
    let twice: f64 = (0..n)
        .map(|i| {
            let (a, b) = (points[i], points[(i + 1) % n]);
            a[0] * b[1] - a[1] * b[0]
        })
        .sum();
    (min, max, twice.abs() / 2.0)
}
