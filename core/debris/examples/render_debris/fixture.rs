//! What belongs to a pan and is no particle: ribs pressed into it, and heads of bolts and plugs.

use std::f64::consts::TAU;

use crate::chance::{Chance, noise, smooth};
use crate::plane::Window;
use crate::scene::Scene;
use crate::shape::{Point, placed};

/// A straight rib, rounded or with sloping sides, in the pan's own colour.
pub fn rib(scene: &mut Scene, chance: &mut Chance, at: Point, base: [f64; 3]) {
    let (half, wide) = (chance.from(15.0, 90.0), chance.from(1.4, 4.5));
    let turn = chance.from(0.0, TAU);
    let (round, steep) = (chance.is(0.6), chance.from(0.5, 1.4));
    let (gloss, ridge) = (
        chance.from(0.0, 1.2) * chance.from(0.0, 1.0),
        chance.from(-0.7, 0.7),
    );
    let (bright, seed) = (chance.from(0.8, 1.15), chance.next());
    let flat = [[-half, -wide], [half, -wide], [half, wide], [-half, wide]];
    let outline: Vec<Point> = placed(&flat, turn, at)
        .iter()
        .map(|p| scene.view.project(*p, 0.0))
        .collect();
    let tall = wide * chance.from(0.2, 0.9) * scene.view.px_per_mm();
    scene.shade(&Window::of(&outline, 6.0 + 3.0 * tall), tall);
    let (view, way) = (scene.view.clone(), scene.light.way);
    let (s, c) = turn.sin_cos();
    // How far a side leans away, of its distance from the middle: 0 to 1 at the foot.
    let leans = |v: f64| {
        let v = v.clamp(-1.0, 1.0);
        if round {
            steep * v
        } else {
            steep * v.signum() * smooth(0.45, 0.6, v.abs())
        }
    };
    scene.paint(&Window::of(&outline, 1.0), |px| {
        let p = view.ground(px, 0.0);
        let (x, y) = (p[0] - at[0], p[1] - at[1]);
        let (u, v) = ((c * x + s * y) / half, (c * y - s * x) / wide);
        // Its ends slope down over its own width.
        let end = leans((u.abs() - 1.0) * half / wide + 1.0) * u.signum();
        let side = if (1.0 - u.abs()) * half < wide * (1.0 - v.abs()) {
            [c * end, s * end]
        } else {
            [-s * leans(v), c * leans(v)]
        };
        let length = (side[0].powi(2) + side[1].powi(2) + 1.0).sqrt();
        let dot = (side[0] * way[0] + side[1] * way[1] + way[2]) / length;
        let lit = (0.35 + 0.65 * dot / way[2].max(0.3)).clamp(0.15, 2.2);
        let streak = 0.9 + 0.2 * noise(u * half * 0.3, v * 4.0, seed);
        let shine = gloss * (-((v - ridge) / 0.25).powi(2)).exp();
        Some(base.map(|b| (b * bright * (lit * streak + shine)) as f32))
    });
}

/// A hexagonal or round head that stands up.
pub fn head(scene: &mut Scene, chance: &mut Chance, at: Point, base: [f64; 3]) {
    let sides = if chance.is(0.7) { 6 } else { 40 };
    let (r, tall) = (chance.from(4.0, 9.0), chance.from(2.0, 8.0));
    let turn = chance.from(0.0, TAU);
    let corners: Vec<Point> = (0..sides)
        .map(|k| {
            let t = turn + TAU * f64::from(k) / f64::from(sides);
            [at[0] + r * t.cos(), at[1] + r * t.sin()]
        })
        .collect();
    let seen = |scene: &Scene, high: f64| -> Vec<Point> {
        corners
            .iter()
            .map(|p| scene.view.project(*p, high))
            .collect()
    };
    let px_per_mm = scene.view.px_per_mm();
    let foot = seen(scene, 0.0);
    scene.shade(
        &Window::of(&foot, 8.0 + 3.0 * tall * px_per_mm),
        tall * px_per_mm,
    );
    let (bright, dark, seed) = (chance.from(0.7, 1.3), chance.from(0.2, 0.8), chance.next());
    let way = scene.light.way;
    let steps = (tall * px_per_mm / 2.0).clamp(6.0, 40.0) as u32;
    scene.raise(&corners, tall, steps, |p| {
        let t = (p[1] - at[1]).atan2(p[0] - at[0]) - turn;
        let part = TAU / f64::from(sides);
        let facing = turn + part * ((t / part).floor() + 0.5);
        let lit = dark + 0.5 * (facing.cos() * way[0] + facing.sin() * way[1]).max(0.0);
        base.map(|b| (b * lit) as f32)
    });
    let top = seen(scene, tall);
    scene.paint(&Window::of(&top, 1.0), |px| {
        let v = bright * (0.95 + 0.1 * noise(px[0] * 0.05, px[1] * 0.05, seed));
        Some(base.map(|b| (b * v) as f32))
    });
}
