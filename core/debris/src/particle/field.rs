//! How likely each pixel around a candidate is a piece's: the ground's shadows are as dark as some
//! pieces, but softer, of the ground's colour, and to one side.

use super::pixels::PixelTrees;

/// Figures of a pixel at first sight.
const COUNT: usize = 40;
/// Figures of a pixel at second sight.
const AGAIN: usize = COUNT + 29;

/// px per mm that the field is not reduced below: finer costs time, coarser costs edges.
const FINEST_PX_PER_MM: f64 = 10.0;
/// Radii at which a pixel's surroundings are looked at, mm: within a small piece, across its
/// border, beyond its shadow.
const RINGS_MM: [f64; 3] = [0.25, 0.5, 1.0];
/// Half a side of the square that a pixel's tone and roughness are averaged over, mm.
const AROUND_MM: f64 = 0.15;
/// Half a side of the square in which the tones of piece and ground are told apart, mm.
const NEAR_MM: f32 = 0.5;
/// Mean likelihood within [`NEAR_MM`] below which a place gets no second sight: less than one likely
/// pixel in all is there. One of 1,893 pieces in 73 photos was lost by it, none was measured otherwise.
const NOTHING: f32 = 0.004;
/// Share of white that is added before logarithms are taken: noise and stray light in black.
const BLACK: f32 = 0.006;

/// What the field needs of a window of the picture.
pub(crate) struct View<'a> {
    pub(crate) width: usize,
    /// Linear colour and ground.
    pub(crate) colour: &'a [[f32; 3]],
    pub(crate) ground: &'a [[f32; 3]],
    /// Pixels that may be a piece's.
    pub(crate) inside: &'a [usize],
    pub(crate) px_per_mm: f64,
    /// Linear brightness of white.
    pub(crate) white: f32,
    /// Spread of the ground's brightness, of 255.
    pub(crate) noise: f32,
    /// Which way shadows fall, and how sure that is.
    pub(crate) shadow: ([f32; 2], f32),
}

/// Reduced planes of a window.
pub(crate) struct Field {
    pub(crate) width: usize,
    pub(crate) step: usize,
    /// Places that are looked at.
    pub(crate) asked: Vec<usize>,
    rings: Vec<[(i64, i64); 8]>,
    /// One step towards the shadow and one to the light, for each radius.
    ways: Vec<[(i64, i64); 2]>,
    /// ln of brightness, red and blue over green, each over the ground's; and their means nearby.
    raw: [Vec<f32>; 3],
    mean: [Vec<f32>; 3],
    rough: Vec<f32>,
    /// The same for all pixels: tones of the candidate, noise, size, ground.
    whole: [f32; 7],
}

/// What a first sight tells of the places' surroundings.
pub(crate) struct Context {
    likely: Vec<f32>,
    /// Its mean nearby, and within [`NEAR_MM`].
    close: Vec<f32>,
    wide: Vec<f32>,
    /// Tone and colours of what is likely a piece, and tone of what is not, within [`NEAR_MM`].
    piece: [Vec<f32>; 3],
    ground: Vec<f32>,
    /// Of the whole candidate: greatest likelihood, size, share and tone of the likely.
    whole: [f32; 4],
}

fn luma(p: &[f32; 3]) -> f32 {
    0.2126 * p[0] + 0.7152 * p[1] + 0.0722 * p[2]
}

impl Field {
    pub(crate) fn new(view: &View) -> Field {
        let step = ((view.px_per_mm / FINEST_PX_PER_MM) as usize).max(1);
        let (width, height) = (view.width / step, view.colour.len() / view.width / step);
        let per_mm = view.px_per_mm / step as f64;
        let mut raw: [Vec<f32>; 3] = std::array::from_fn(|_| Vec::with_capacity(width * height));
        let black = (BLACK * view.white).max(1e-4);
        let share = 1.0 / (step * step) as f32;
        let mut ground_sum = 0.0;
        for y in 0..height {
            for x in 0..width {
                let (mut c, mut g) = ([0f32; 3], [0f32; 3]);
                for v in 0..step {
                    let from = (y * step + v) * view.width + x * step;
                    for at in from..from + step {
                        for k in 0..3 {
                            c[k] += view.colour[at][k] * share;
                            g[k] += view.ground[at][k] * share;
                        }
                    }
                }
                let ground = luma(&g);
                ground_sum += ground;
                raw[0].push(((luma(&c) + black) / (ground + black)).ln());
                let over = |k: usize| {
                    ((c[k] + black) * (g[1] + black) / ((g[k] + black) * (c[1] + black))).ln()
                };
                raw[1].push(over(0));
                raw[2].push(over(2));
            }
        }
        let around = ((AROUND_MM * per_mm).round() as usize).max(1);
        let mean: [Vec<f32>; 3] = std::array::from_fn(|k| boxed(&raw[k], width, around));
        let off: Vec<f32> = raw[0]
            .iter()
            .zip(&mean[0])
            .map(|(a, b)| (a - b).abs())
            .collect();
        let rough = boxed(&off, width, around);
        let mut asked = vec![false; width * height];
        let mut tones = Vec::new();
        for at in view.inside {
            let (x, y) = (at % view.width / step, at / view.width / step);
            if x < width && y < height && !asked[y * width + x] {
                asked[y * width + x] = true;
                tones.push(mean[0][y * width + x]);
            }
        }
        let n = tones.len();
        let mut tone = |share: usize| {
            let at = n * share / 10;
            if n == 0 {
                0.0
            } else {
                *tones
                    .select_nth_unstable_by(at.min(n - 1), f32::total_cmp)
                    .1
            }
        };
        let (low, high) = (tone(1), tone(9));
        let grown = grow(&asked, width, around);
        let rings = RINGS_MM
            .map(|mm| {
                let r = (mm * per_mm).max(1.0);
                std::array::from_fn(|i| {
                    let t = i as f64 * std::f64::consts::FRAC_PI_4;
                    ((r * t.cos()).round() as i64, (r * t.sin()).round() as i64)
                })
            })
            .to_vec();
        let ways = RINGS_MM
            .map(|mm| {
                [1.0, -1.0].map(|side| {
                    let r = side * (mm * per_mm).max(1.0) as f32;
                    let [dx, dy] = view.shadow.0.map(|v| (r * v).round() as i64);
                    (dx, dy)
                })
            })
            .to_vec();
        let ground = (ground_sum / raw[0].len().max(1) as f32 + black) / view.white.max(1e-4);
        Field {
            width,
            step,
            asked: (0..width * height).filter(|at| grown[*at]).collect(),
            rings,
            ways,
            raw,
            mean,
            rough,
            whole: [
                low,
                high,
                view.noise,
                (n as f32).sqrt() / per_mm as f32,
                ground.ln(),
                per_mm as f32,
                view.shadow.1,
            ],
        }
    }

    /// The figures of a place.
    pub(crate) fn looks(&self, at: usize) -> [f32; COUNT] {
        let (x, y) = ((at % self.width) as i64, (at / self.width) as i64);
        let height = (self.raw[0].len() / self.width) as i64;
        let place = |dx: i64, dy: i64| {
            let (u, v) = (
                (x + dx).clamp(0, self.width as i64 - 1),
                (y + dy).clamp(0, height - 1),
            );
            v as usize * self.width + u as usize
        };
        let light = &self.mean[0];
        let (dx, dy) = (
            light[place(1, 0)] - light[place(-1, 0)],
            light[place(0, 1)] - light[place(0, -1)],
        );
        let mut out = [0.0; COUNT];
        out[..3].copy_from_slice(&[self.raw[0][at], self.raw[1][at], self.raw[2][at]]);
        out[3..6].copy_from_slice(&[light[at], self.mean[1][at], self.mean[2][at]]);
        out[6] = self.rough[at];
        out[7] = (dx * dx + dy * dy).sqrt();
        for (k, ring) in self.rings.iter().enumerate() {
            let (mut low, mut high, mut sum, mut apart, mut colour) =
                (f32::MAX, f32::MIN, 0.0, 0f32, 0f32);
            let across: [f32; 8] = std::array::from_fn(|i| light[place(ring[i].0, ring[i].1)]);
            for i in 0..8 {
                let v = across[i];
                low = low.min(v);
                high = high.max(v);
                sum += v;
                apart = apart.max(across[(i + 4) % 8] - v);
                if k == 1 {
                    let to = place(ring[i].0, ring[i].1);
                    let [r, b] = [1, 2].map(|k: usize| self.mean[k][to] - self.mean[k][at]);
                    colour = colour.max(r * r + b * b);
                }
            }
            let base = 8 + 4 * k;
            out[base..base + 4].copy_from_slice(&[
                low - light[at],
                high - light[at],
                sum / 8.0 - light[at],
                apart,
            ]);
            if k == 1 {
                out[20] = colour.sqrt();
            }
            // A line goes on along one axis and ends across another.
            let axis = |i: usize| (across[i].abs(), across[i + 4].abs());
            let along = (0..4).map(|i| axis(i).0.min(axis(i).1)).fold(0.0, f32::max);
            let off = (0..4)
                .map(|i| axis(i).0.max(axis(i).1))
                .fold(f32::MAX, f32::min);
            out[21 + 2 * k..23 + 2 * k].copy_from_slice(&[along, off]);
            for (i, (dx, dy)) in self.ways[k].iter().enumerate() {
                out[27 + 2 * k + i] = light[place(*dx, *dy)] - light[at];
            }
        }
        out[33..40].copy_from_slice(&self.whole);
        out
    }

    /// The probabilities of all places at first sight; 0 where none was asked.
    pub(crate) fn judged(&self, trees: &PixelTrees) -> Vec<f32> {
        let mut p = vec![0.0; self.raw[0].len()];
        let asked = self.asked.iter().copied();
        trees.judge(asked, |at| self.looks(at), |at, chance| p[at] = chance);
        p
    }

    /// The same at second sight: with what the first told of each place's surroundings.
    pub(crate) fn judged_again(&self, first: Vec<f32>, trees: &PixelTrees) -> Vec<f32> {
        let context = self.context(first);
        let mut p = vec![0.0; self.raw[0].len()];
        let near = |at: &usize| context.wide[*at] >= NOTHING;
        let asked = self.asked.iter().copied().filter(near);
        let looks = |at| self.looks_again(&context, at);
        trees.judge(asked, looks, |at, chance| p[at] = chance);
        p
    }

    /// What a first sight tells of each place's surroundings.
    pub(crate) fn context(&self, likely: Vec<f32>) -> Context {
        let (width, per_mm) = (self.width, self.whole[5]);
        let around = ((AROUND_MM as f32 * per_mm).round() as usize).max(1);
        let near = ((NEAR_MM * per_mm).round() as usize).max(2);
        let weighed = |plane: &[f32], side: f32| -> Vec<f32> {
            let all = likely.iter().zip(plane);
            let sum: Vec<f32> = all
                .map(|(p, v)| (side + (1.0 - 2.0 * side) * p) * v)
                .collect();
            boxed(&sum, width, near)
        };
        let close = boxed(&likely, width, around);
        let wide = boxed(&likely, width, near);
        let over = |sums: Vec<f32>, side: f32| -> Vec<f32> {
            let all = sums.iter().zip(&wide);
            all.map(|(s, w)| s / (side + (1.0 - 2.0 * side) * w).max(1e-3))
                .collect()
        };
        let piece = [0, 1, 2].map(|k| over(weighed(&self.raw[k], 0.0), 0.0));
        let ground = over(weighed(&self.raw[0], 1.0), 1.0);
        let (mut sum, mut tone, mut peak) = (0f32, 0f32, 0f32);
        for at in &self.asked {
            sum += likely[*at];
            tone += likely[*at] * self.raw[0][*at];
            peak = peak.max(likely[*at]);
        }
        let whole = [
            peak,
            sum.sqrt() / per_mm,
            sum / self.asked.len().max(1) as f32,
            tone / sum.max(1e-3),
        ];
        Context {
            likely,
            close,
            wide,
            piece,
            ground,
            whole,
        }
    }

    /// The figures of a place at second sight: those at first sight, then those of its surroundings.
    pub(crate) fn looks_again(&self, c: &Context, at: usize) -> [f32; AGAIN] {
        let (x, y) = ((at % self.width) as i64, (at / self.width) as i64);
        let height = (self.raw[0].len() / self.width) as i64;
        let likely = |dx: i64, dy: i64| {
            let (u, v) = (
                (x + dx).clamp(0, self.width as i64 - 1),
                (y + dy).clamp(0, height - 1),
            );
            c.likely[v as usize * self.width + u as usize]
        };
        let mut out = [0.0; AGAIN];
        out[..COUNT].copy_from_slice(&self.looks(at));
        let more = &mut out[COUNT..];
        more[..3].copy_from_slice(&[c.likely[at], c.close[at], c.wide[at]]);
        for (k, ring) in self.rings.iter().enumerate() {
            let (mut low, mut high, mut sum) = (1f32, 0f32, 0.0);
            for (dx, dy) in ring {
                let p = likely(*dx, *dy);
                low = low.min(p);
                high = high.max(p);
                sum += p;
            }
            more[3 + 3 * k..6 + 3 * k].copy_from_slice(&[low, high, sum / 8.0]);
            for (i, (dx, dy)) in self.ways[k].iter().enumerate() {
                more[12 + 2 * k + i] = likely(*dx, *dy);
            }
        }
        let (here, piece, ground) = (self.raw[0][at], c.piece[0][at], c.ground[at]);
        let apart = piece - ground;
        let part = (here - ground) / (apart.abs().max(0.03) * apart.signum());
        more[18..24].copy_from_slice(&[
            here - piece,
            here - ground,
            apart,
            part.clamp(-1.0, 2.0),
            self.raw[1][at] - c.piece[1][at],
            self.raw[2][at] - c.piece[2][at],
        ]);
        more[24..28].copy_from_slice(&c.whole);
        more[28] = here - c.whole[3];
        out
    }

    /// Between places, of a plane of this field, at a pixel of the window.
    pub(crate) fn between(&self, plane: &[f32], x: usize, y: usize) -> f32 {
        let height = plane.len() / self.width;
        let place = |v: usize, n: usize| {
            let v = ((v as f32 + 0.5) / self.step as f32 - 0.5).clamp(0.0, n as f32 - 1.0);
            let low = (v as usize).min(n.saturating_sub(2));
            (low, v - low as f32)
        };
        let ((i, fx), (j, fy)) = (place(x, self.width), place(y, height));
        let at = |i: usize, j: usize| plane[j.min(height - 1) * self.width + i.min(self.width - 1)];
        let top = at(i, j) * (1.0 - fx) + at(i + 1, j) * fx;
        let low = at(i, j + 1) * (1.0 - fx) + at(i + 1, j + 1) * fx;
        top * (1.0 - fy) + low * fy
    }
}

/// Mean over squares of half side `r`.
fn boxed(plane: &[f32], width: usize, r: usize) -> Vec<f32> {
    let height = plane.len() / width.max(1);
    let mut along = Vec::with_capacity(plane.len());
    let mut sums = vec![0.0; width + 1];
    for row in plane.chunks_exact(width) {
        let mut sum = 0.0;
        for (s, v) in sums[1..].iter_mut().zip(row) {
            sum += v;
            *s = sum;
        }
        along.extend((0..width).map(|x| {
            let (a, b) = (x.saturating_sub(r), (x + r + 1).min(width));
            (sums[b] - sums[a]) / (b - a) as f32
        }));
    }
    let mut out = vec![0.0; plane.len()];
    for y in 0..height {
        let (a, b) = (y.saturating_sub(r), (y + r + 1).min(height));
        let to = &mut out[y * width..(y + 1) * width];
        for row in along[a * width..b * width].chunks_exact(width) {
            to.iter_mut().zip(row).for_each(|(o, v)| *o += v);
        }
        to.iter_mut().for_each(|o| *o /= (b - a) as f32);
    }
    out
}

/// Grown by a square of half side `r`.
fn grow(mask: &[bool], width: usize, r: usize) -> Vec<bool> {
    let height = mask.len() / width.max(1);
    let mut out = vec![false; mask.len()];
    for at in (0..mask.len()).filter(|at| mask[*at]) {
        let (x, y) = (at % width, at / width);
        for v in y.saturating_sub(r)..(y + r + 1).min(height) {
            out[v * width + x.saturating_sub(r)..v * width + (x + r + 1).min(width)].fill(true);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn means_and_growth_of_one_point() {
        let mut plane = vec![0.0; 49];
        plane[24] = 9.0;
        let mean = boxed(&plane, 7, 1);
        assert!(
            mean.iter().filter(|v| (**v - 1.0).abs() < 1e-6).count() == 9 && mean[24 - 16] < 1.1
        );
        let grown = grow(&plane.iter().map(|v| *v > 0.0).collect::<Vec<_>>(), 7, 2);
        assert_eq!(grown.iter().filter(|v| **v).count(), 25);
    }
}
