//! The picture under way: linear light, and which piece each pixel shows.

use crate::card;
use crate::chance::{Chance, cloud, noise};
use crate::ground::Ground;
use crate::piece::{Piece, Surface, colour_at};
use crate::plane::{Window, blur};
use crate::shape::{Point, placed};
use crate::view::View;

/// One lamp: where it stands, how soft its shadows are, how dark.
pub struct Light {
    pub way: [f64; 3],
    pub soft: f64,
    pub dark: f64,
    /// How dark the ground is close to a piece, all around, and how far that reaches over its height.
    pub close: f64,
    pub round: f64,
    /// Brightness over the picture: slope per mm.
    pub slope: Point,
}

impl Light {
    pub fn new(chance: &mut Chance) -> Light {
        let (turn, low) = (
            chance.from(0.0, crate::chance::TURN),
            chance.from(0.5, 1.25),
        );
        Light {
            way: [low.cos() * turn.cos(), low.cos() * turn.sin(), low.sin()],
            soft: chance.log(0.08, 0.7),
            dark: chance.from(0.25, 0.97),
            close: chance.from(0.1, 0.65),
            round: chance.log(0.3, 1.2),
            slope: [chance.from(-0.004, 0.004), chance.from(-0.004, 0.004)],
        }
    }
}

pub struct Scene {
    pub view: View,
    pub light: Light,
    pub rgb: Vec<[f32; 3]>,
    pub shows: Vec<u16>,
}

const COARSE: usize = 4;

impl Scene {
    pub fn new(view: View, light: Light, ground: &Ground, chance: &mut Chance) -> Scene {
        let (w, h) = (view.width, view.height);
        let (cw, ch) = (w / COARSE + 2, h / COARSE + 2);
        let mut coarse = Vec::with_capacity(cw * ch);
        for j in 0..ch {
            for i in 0..cw {
                let mm = view.ground([(i * COARSE) as f64, (j * COARSE) as f64], 0.0);
                let lit = 1.0 + light.slope[0] * mm[0] + light.slope[1] * mm[1];
                coarse.push(ground.colour(mm).map(|v| (v * lit.max(0.3)) as f32));
            }
        }
        let mut grain: Vec<f32> = (0..w * h).map(|_| chance.from(-1.0, 1.0) as f32).collect();
        blur(&mut grain, w, view.px_per_mm() * chance.from(0.03, 0.1));
        let size = (grain.iter().map(|v| v * v).sum::<f32>() / grain.len() as f32).sqrt();
        let mut rgb = Vec::with_capacity(w * h);
        for y in 0..h {
            for x in 0..w {
                let (i, j) = (x / COARSE, y / COARSE);
                let (fx, fy) = (
                    (x % COARSE) as f32 / COARSE as f32,
                    (y % COARSE) as f32 / COARSE as f32,
                );
                let at = j * cw + i;
                let g = 1.0 + ground.grain as f32 * grain[y * w + x] / size;
                rgb.push(std::array::from_fn(|k| {
                    let top = coarse[at][k] * (1.0 - fx) + coarse[at + 1][k] * fx;
                    let low = coarse[at + cw][k] * (1.0 - fx) + coarse[at + cw + 1][k] * fx;
                    (top * (1.0 - fy) + low * fy) * g
                }));
            }
        }
        Scene {
            view,
            light,
            rgb,
            shows: vec![0; w * h],
        }
    }

    fn at(&self, x: i64, y: i64) -> Option<usize> {
        let inside = x >= 0 && y >= 0 && x < self.view.width as i64 && y < self.view.height as i64;
        inside.then(|| y as usize * self.view.width + x as usize)
    }

    /// Darkens what lies beside and below something `tall` px high.
    pub fn shade(&mut self, cover: &Window, tall: f64) {
        let low = (self.light.way[2] / (1.0 - self.light.way[2].powi(2)).sqrt().max(0.2)).max(0.3);
        let reach = tall / low;
        let n = (reach / 2.0).ceil().clamp(2.0, 8.0) as i32;
        let mut all: Option<Window> = None;
        for k in 1..=n {
            let t = f64::from(k) / f64::from(n);
            let mut soft = cover.blurred(0.4 + self.light.soft * reach * t);
            let flat = (self.light.way[0].hypot(self.light.way[1])).max(1e-6);
            let (dx, dy) = (
                -self.light.way[0] / flat * reach * t,
                -self.light.way[1] / flat * reach * t,
            );
            soft.x0 += dx.round() as i64;
            soft.y0 += dy.round() as i64;
            all = Some(match all {
                None => {
                    let mut base = cover.clone();
                    for (i, v) in base.values.iter_mut().enumerate() {
                        *v = soft.at(
                            base.x0 + (i % base.width) as i64,
                            base.y0 + (i / base.width) as i64,
                        );
                    }
                    base
                }
                Some(mut base) => {
                    for (i, v) in base.values.iter_mut().enumerate() {
                        *v = v.max(soft.at(
                            base.x0 + (i % base.width) as i64,
                            base.y0 + (i / base.width) as i64,
                        ));
                    }
                    base
                }
            });
        }
        let near = cover.blurred(self.light.round * tall.max(1.0));
        let Some(all) = all else { return };
        for (i, v) in all.values.iter().enumerate() {
            let (x, y) = (
                all.x0 + (i % all.width) as i64,
                all.y0 + (i / all.width) as i64,
            );
            if let Some(at) = self.at(x, y) {
                let keep = (1.0 - self.light.dark as f32 * v)
                    * (1.0 - self.light.close as f32 * near.values[i]);
                self.rgb[at] = self.rgb[at].map(|c| c * keep);
            }
        }
    }

    /// Lays a piece; tells its outline in px, its middle and how many px it covers.
    pub fn lay(&mut self, piece: &Piece, id: u16, at: Point, angle: f64, under: f64) -> Laid {
        let mm = placed(&piece.outline, angle, at);
        let outline: Vec<Point> = mm.iter().map(|p| self.view.project(*p, under)).collect();
        let px_per_mm = self.view.px_per_mm();
        let tall = piece.tall * px_per_mm;
        let cover = Window::of(&outline, 6.0 + 3.5 * tall);
        if piece.surface != Surface::Drop {
            self.shade(&cover, tall);
        } else {
            self.shade(&cover, 0.4 * tall);
        }
        let thick = crate::shape::extent(&outline).0;
        // A rounded edge: high in the middle, sloping down outwards.
        let dome = cover.blurred((0.22 * thick).clamp(0.5, 30.0));
        let (mut pixels, mut sum) = (0u32, [0.0, 0.0]);
        for i in 0..cover.values.len() {
            let share = cover.values[i];
            if share <= 0.0 {
                continue;
            }
            let (x, y) = (
                cover.x0 + (i % cover.width) as i64,
                cover.y0 + (i / cover.width) as i64,
            );
            let Some(to) = self.at(x, y) else { continue };
            let side = |dx: i64, dy: i64| f64::from(dome.at(x + dx, y + dy));
            let slope = [side(-1, 0) - side(1, 0), side(0, -1) - side(0, 1)]
                .map(|v| v * 1.2 * tall.clamp(1.0, 12.0));
            let place = self.view.ground([x as f64 + 0.5, y as f64 + 0.5], under);
            let lit = 1.0 + self.light.slope[0] * place[0] + self.light.slope[1] * place[1];
            let below = self.rgb[to].map(f64::from);
            let lit = if piece.surface == Surface::Drop {
                1.0
            } else {
                lit
            };
            let colour = colour_at(
                piece,
                place,
                f64::from(dome.values[i]),
                slope,
                self.light.way,
                below,
            );
            for (k, v) in colour.iter().enumerate() {
                self.rgb[to][k] += share * ((v * lit) as f32 - self.rgb[to][k]);
            }
            if share > 0.5 {
                if piece.class.is_some() {
                    self.shows[to] = id;
                }
                pixels += 1;
                sum = [sum[0] + x as f64 + 0.5, sum[1] + y as f64 + 0.5];
            }
        }
        let n = f64::from(pixels.max(1));
        Laid {
            outline,
            middle: [sum[0] / n, sum[1] / n],
            pixels,
        }
    }

    /// Lays the card with its corner at a place.
    pub fn lay_card(&mut self, corner: Point, angle: f64) -> [Point; 4] {
        let (s, c) = angle.sin_cos();
        let to = |p: Point| {
            [
                corner[0] + c * p[0] - s * p[1],
                corner[1] + s * p[0] + c * p[1],
            ]
        };
        let [w, h] = card::SIZE;
        let corners =
            [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]].map(|p| self.view.project(to(p), 0.25));
        let tall = 0.4 * self.view.px_per_mm();
        let cover = Window::of(&corners, 10.0);
        self.shade(&cover, tall);
        for i in 0..cover.values.len() {
            let (x, y) = (
                cover.x0 + (i % cover.width) as i64,
                cover.y0 + (i / cover.width) as i64,
            );
            let (share, Some(at)) = (cover.values[i], self.at(x, y)) else {
                continue;
            };
            if share <= 0.0 {
                continue;
            }
            let mut sum = [0.0; 3];
            let mut lit = 1.0;
            for (u, v) in [(0.25, 0.25), (0.75, 0.25), (0.25, 0.75), (0.75, 0.75)] {
                let m = self.view.ground([x as f64 + u, y as f64 + v], 0.25);
                lit = 1.0 + self.light.slope[0] * m[0] + self.light.slope[1] * m[1];
                let (dx, dy) = (m[0] - corner[0], m[1] - corner[1]);
                let print = card::colour([c * dx + s * dy, c * dy - s * dx]);
                sum = std::array::from_fn(|k| sum[k] + print[k] / 4.0);
            }
            for (k, v) in sum.iter().enumerate() {
                self.rgb[at][k] += share * ((v * lit) as f32 - self.rgb[at][k]);
            }
            self.shows[at] = u16::MAX;
        }
        corners
    }

    /// A magnet's face with paste on it: cover, and the face's outline in px.
    pub fn lay_magnet(
        &mut self,
        chance: &mut Chance,
        outline: &[Point],
        hole: f64,
        at: Point,
        tall: f64,
        share: f64,
    ) -> (f64, f64) {
        let mm = placed(outline, 0.0, at);
        let foot: Vec<Point> = mm.iter().map(|p| self.view.project(*p, 0.0)).collect();
        let top: Vec<Point> = mm.iter().map(|p| self.view.project(*p, tall)).collect();
        let px_per_mm = self.view.px_per_mm();
        self.shade(
            &Window::of(&foot, 8.0 + 4.0 * tall * px_per_mm),
            tall * px_per_mm,
        );
        let face = chance.log(0.07, 0.35);
        let (side, paste) = (
            face * chance.from(0.15, 0.7),
            chance.log(0.012, 0.055).min(0.5 * face),
        );
        let (seed, size) = (chance.next(), chance.log(2.5, 9.0));
        let (fine, rough) = (chance.from(1.5, 6.0), chance.from(0.2, 0.9));
        let field = |p: Point| cloud(p[0] / size, p[1] / size, 4, seed);
        let level = {
            let mut values: Vec<f64> = (0..4000)
                .map(|i| {
                    field([
                        f64::from(i % 63) * 0.6 - 19.0 + at[0],
                        f64::from(i / 63) * 0.6 - 19.0 + at[1],
                    ])
                })
                .collect();
            values.sort_by(f64::total_cmp);
            values[((1.0 - share) * 3999.0) as usize]
        };
        self.raise(&mm, tall, 12, |_| [side as f32; 3]);
        let cover = Window::of(&top, 1.0);
        let view = self.view.clone();
        let way = self.light.way;
        let mut counted = Vec::new();
        self.paint(&cover, |px| {
            let p = view.ground(px, tall);
            if (p[0] - at[0]).hypot(p[1] - at[1]) < hole {
                return Some([(side * 0.8) as f32; 3]);
            }
            let over = share >= 1.0 || (share > 0.0 && field(p) > level);
            counted.push(over);
            let bump = |dx: f64, dy: f64| noise((p[0] + dx) * fine, (p[1] + dy) * fine, seed ^ 3);
            let lean = rough
                * ((bump(0.05, 0.0) - bump(-0.05, 0.0)) * way[0]
                    + (bump(0.0, 0.05) - bump(0.0, -0.05)) * way[1])
                * 5.0;
            let v = if over {
                paste * (0.75 + 0.7 * bump(0.0, 0.0) - lean).max(0.2)
            } else {
                face * (0.9 + 0.2 * noise(p[0] * 0.4, p[1] * 3.0, seed ^ 4))
            };
            Some([v as f32; 3])
        });
        let covered = counted.iter().filter(|over| **over).count() as f64;
        let all = counted.len() as f64;
        (covered / all.max(1.0), all / px_per_mm.powi(2))
    }

    /// Paints the sides of what stands `tall` mm high on an outline in mm, one ring upon the other.
    pub fn raise(
        &mut self,
        outline: &[Point],
        tall: f64,
        rings: u32,
        colour: impl Fn(Point) -> [f32; 3],
    ) {
        for k in 0..rings {
            let high = tall * f64::from(k) / f64::from(rings);
            let ring: Vec<Point> = outline
                .iter()
                .map(|p| self.view.project(*p, high))
                .collect();
            let view = self.view.clone();
            self.paint(&Window::of(&ring, 1.0), |px| {
                Some(colour(view.ground(px, 0.0)))
            });
        }
    }

    /// Paints what a window covers, by its places in px.
    pub fn paint(&mut self, cover: &Window, mut colour: impl FnMut(Point) -> Option<[f32; 3]>) {
        for i in 0..cover.values.len() {
            let share = cover.values[i];
            let (x, y) = (
                cover.x0 + (i % cover.width) as i64,
                cover.y0 + (i / cover.width) as i64,
            );
            if share > 0.0
                && let (Some(to), Some(v)) =
                    (self.at(x, y), colour([x as f64 + 0.5, y as f64 + 0.5]))
            {
                for (old, new) in self.rgb[to].iter_mut().zip(v) {
                    *old += share * (new - *old);
                }
            }
        }
    }
}

pub struct Laid {
    pub outline: Vec<Point>,
    pub middle: Point,
    pub pixels: u32,
}

/// What a phone makes of the light: blur, vignette, noise, smoothing, sharpening, tone.
pub fn develop(scene: &Scene, chance: &mut Chance) -> Vec<u8> {
    let (w, h) = (scene.view.width, scene.view.height);
    let mut sorted: Vec<f32> = scene.rgb.iter().step_by(997).map(|p| p[1]).collect();
    sorted.sort_by(f32::total_cmp);
    let exposure = chance.from(0.3, 0.75) / f64::from(sorted[sorted.len() * 9 / 10]).max(0.02);
    let tint = [chance.from(0.88, 1.12), 1.0, chance.from(0.85, 1.15)];
    let (sharp, smooth) = (chance.from(0.0, 1.4), chance.from(0.2, 1.1));
    let (noisy, lens, corner) = (
        chance.log(0.006, 0.03),
        chance.log(0.4, 1.6),
        chance.from(0.0, 0.35),
    );
    let contrast = chance.from(0.0, 0.25);
    let mut out = vec![0u8; 3 * w * h];
    for k in 0..3 {
        let mut plane: Vec<f32> = scene.rgb.iter().map(|p| p[k]).collect();
        blur(&mut plane, w, lens);
        for (i, v) in plane.iter_mut().enumerate() {
            let (x, y) = (
                (i % w) as f64 / w as f64 - 0.5,
                (i / w) as f64 / h as f64 - 0.5,
            );
            let lit = f64::from(*v) * exposure * tint[k] * (1.0 - corner * (x * x + y * y) * 2.0);
            let n = noisy * (0.25 + lit.max(0.0).sqrt()) * chance.normal();
            // sRGB's curve (IEC 61966-2-1), nearly.
            *v = (lit + n).max(0.0).powf(1.0 / 2.2) as f32;
        }
        blur(&mut plane, w, smooth);
        if sharp > 0.05 {
            let mut soft = plane.clone();
            blur(&mut soft, w, 1.2);
            for (v, s) in plane.iter_mut().zip(soft) {
                *v += sharp as f32 * (*v - s);
            }
        }
        for (i, v) in plane.iter().enumerate() {
            let t = f64::from(v.clamp(0.0, 1.0));
            let t = t + contrast * (t * t * (3.0 - 2.0 * t) - t);
            out[3 * i + k] = (t * 255.0 + 0.5) as u8;
        }
    }
    out
}
