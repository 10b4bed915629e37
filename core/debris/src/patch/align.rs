//! How one photo of a patch lies on another: turn, shift and a little scale,
//! told by the pieces that are in both.
//!
//! Pairs of pieces as far apart in one photo as in the other give motions to
//! try (random sample consensus, Fischler and Bolles 1981, over all pairs
//! instead of drawn ones, so that the result is always the same). The motion
//! under which most pieces find a partner of their size is refined by least
//! squares. It is believed only if so many partners are not to be had by chance
//! (number of false alarms, Desolneux, Moisan and Morel 2000).

use super::chance::ln_binomial_tail;
use super::sheet::{PointMm, Sheet, Spot};

/// Pieces that are tried for pairs: the largest of each photo, whose places are surest.
const TRIED: usize = 40;
/// Two pieces nearer than this tell a turn badly, mm.
const LEAST_APART_MM: f64 = 6.0;
/// Partners' places differ by less, mm, when a motion is tried and when it is refined: a fifth of
/// a percent of the scale over 150 mm, the thickness of paper and the doubt about a piece's middle.
const TRY_MM: f64 = 1.2;
const NEAR_MM: f64 = 0.6;
/// Partners' lengths differ by less than this, as a natural logarithm: twice the error of nine
/// pieces in ten.
const SIZE_LN: f64 = 0.45;
/// More pieces falling together by chance than this, in expectation, make no fit.
const FALSE_ALARMS: f64 = 1e-4;
/// Fewer partners are no fit whatever chance says.
const LEAST_PARTNERS: usize = 4;

/// Why two photos can't be laid on one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoFit {
    /// One of them has no scale, or could not be read.
    NoScale,
    /// Too few pieces in one of them.
    TooFew {
        /// The fewest pieces of the two.
        pieces: usize,
    },
    /// No more pieces fall together than would by chance.
    ByChance {
        /// The most that fall together.
        partners: usize,
    },
}

/// A turn, a shift and a scale near 1, from one plane in mm to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Cosine of the turn times the scale.
    c: f64,
    /// Sine of it, likewise.
    s: f64,
    shift: PointMm,
}

impl Motion {
    /// Where a point goes.
    pub fn apply(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [
            self.c * x - self.s * y + self.shift[0],
            self.s * x + self.c * y + self.shift[1],
        ]
    }

    /// No motion.
    pub(crate) fn still() -> Motion {
        Motion {
            c: 1.0,
            s: 0.0,
            shift: [0.0; 2],
        }
    }

    /// This one, then another.
    pub(crate) fn then(&self, next: &Motion) -> Motion {
        Motion {
            c: self.c * next.c - self.s * next.s,
            s: self.c * next.s + self.s * next.c,
            shift: next.apply(self.shift),
        }
    }

    /// The way back.
    pub fn inverse(&self) -> Motion {
        let square = self.c * self.c + self.s * self.s;
        let (c, s) = (self.c / square, -self.s / square);
        let [x, y] = self.shift;
        Motion {
            c,
            s,
            shift: [-(c * x - s * y), -(s * x + c * y)],
        }
    }

    /// Turn, degrees.
    pub fn turn_deg(&self) -> f64 {
        self.s.atan2(self.c).to_degrees()
    }

    /// How many times as long a stretch is after the motion.
    pub fn scale(&self) -> f64 {
        self.c.hypot(self.s)
    }

    /// Least squares over pairs of places (Umeyama 1991, in the plane); `None` for fewer than two.
    fn fit(pairs: &[(PointMm, PointMm)], free_scale: bool) -> Option<Motion> {
        let n = pairs.len() as f64;
        if pairs.len() < 2 {
            return None;
        }
        let mean = |of: fn(&(PointMm, PointMm)) -> PointMm| {
            let sum = pairs
                .iter()
                .map(of)
                .fold([0.0; 2], |s, p| [s[0] + p[0], s[1] + p[1]]);
            [sum[0] / n, sum[1] / n]
        };
        let (ma, mb) = (mean(|p| p.0), mean(|p| p.1));
        let (mut dot, mut cross, mut spread) = (0.0, 0.0, 0.0);
        for (a, b) in pairs {
            let (a, b) = ([a[0] - ma[0], a[1] - ma[1]], [b[0] - mb[0], b[1] - mb[1]]);
            dot += a[0] * b[0] + a[1] * b[1];
            cross += a[0] * b[1] - a[1] * b[0];
            spread += a[0] * a[0] + a[1] * a[1];
        }
        let length = dot.hypot(cross);
        if !(length > 1e-9 && spread > 1e-9) {
            return None;
        }
        let scale = if free_scale { length / spread } else { 1.0 };
        let (c, s) = (scale * dot / length, scale * cross / length);
        Some(Motion {
            c,
            s,
            shift: [
                mb[0] - (c * ma[0] - s * ma[1]),
                mb[1] - (s * ma[0] + c * ma[1]),
            ],
        })
    }
}

/// Two photos on one another.
#[derive(Debug, Clone)]
pub(crate) struct Aligned {
    /// From the first photo's plane to the second's.
    pub(crate) motion: Motion,
    /// Pieces of the first with their partner in the second.
    pub(crate) partners: Vec<(usize, usize)>,
    /// Root mean square of what partners' places differ by, mm.
    pub(crate) rms_mm: f64,
}

/// Lays `a` on `b`.
pub(crate) fn align(a: &Sheet, b: &Sheet) -> Result<Aligned, NoFit> {
    let fewest = a.spots.len().min(b.spots.len());
    if fewest < LEAST_PARTNERS {
        return Err(NoFit::TooFew { pieces: fewest });
    }
    let (mut best, mut tried) = (None::<(usize, Motion)>, 0usize);
    let (of_a, of_b) = (largest(&a.spots), largest(&b.spots));
    let scales = 1.0 - most_scale(a, b)..=1.0 + most_scale(a, b);
    let far_b = pairs_by_distance(&b.spots, &of_b);
    let near_b = Cells::of(&b.spots, &of_b);
    for (i, &p) in of_a.iter().enumerate() {
        for &q in &of_a[i + 1..] {
            let apart = distance(a.spots[p].at, a.spots[q].at);
            if apart < LEAST_APART_MM {
                continue;
            }
            let from = far_b.partition_point(|(d, ..)| *d < apart * scales.start() - NEAR_MM);
            let near = far_b[from..].iter();
            for &(_, r, s) in near.take_while(|(d, ..)| *d <= apart * scales.end() + NEAR_MM) {
                for (r, s) in [(r, s), (s, r)] {
                    if !alike(&a.spots[p], &b.spots[r]) || !alike(&a.spots[q], &b.spots[s]) {
                        continue;
                    }
                    tried += 1;
                    let two = [
                        (a.spots[p].at, b.spots[r].at),
                        (a.spots[q].at, b.spots[s].at),
                    ];
                    let Some(motion) = Motion::fit(&two, false) else {
                        continue;
                    };
                    let n = votes(&a.spots, &of_a, &near_b, &motion);
                    if best.is_none_or(|(most, _)| n > most) {
                        best = Some((n, motion));
                    }
                }
            }
        }
    }
    let Some((_, mut motion)) = best else {
        return Err(NoFit::ByChance { partners: 0 });
    };
    let mut partners = Vec::new();
    for round in 0..8 {
        let reach = if round < 3 { TRY_MM } else { NEAR_MM };
        partners = pair_up(a, b, &motion, reach);
        let places: Vec<_> = partners
            .iter()
            .map(|&(i, j)| (a.spots[i].at, b.spots[j].at))
            .collect();
        // A scale needs more than the few that any motion finds.
        let Some(next) = Motion::fit(&places, places.len() >= 6) else {
            break;
        };
        if !scales.contains(&next.scale()) {
            break;
        }
        motion = next;
    }
    if partners.len() < LEAST_PARTNERS || by_chance(a, b, &motion, partners.len(), tried) {
        return Err(NoFit::ByChance {
            partners: partners.len(),
        });
    }
    let off =
        |&(i, j): &(usize, usize)| distance(motion.apply(a.spots[i].at), b.spots[j].at).powi(2);
    let rms_mm = (partners.iter().map(off).sum::<f64>() / partners.len() as f64).sqrt();
    Ok(Aligned {
        motion,
        partners,
        rms_mm,
    })
}

pub(crate) fn distance(a: PointMm, b: PointMm) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

/// How far the scales of two photos may be apart: three times their uncertainty, one percent at least.
fn most_scale(a: &Sheet, b: &Sheet) -> f64 {
    (3.0 * a.u_rel.hypot(b.u_rel)).clamp(0.01, 0.15)
}

pub(crate) fn alike(a: &Spot, b: &Spot) -> bool {
    (a.feret_mm.max(1e-6) / b.feret_mm.max(1e-6)).ln().abs() < SIZE_LN
}

fn largest(spots: &[Spot]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..spots.len()).collect();
    order.sort_by(|&i, &j| {
        spots[j]
            .area_mm2
            .total_cmp(&spots[i].area_mm2)
            .then(i.cmp(&j))
    });
    order.truncate(TRIED);
    order
}

fn pairs_by_distance(spots: &[Spot], of: &[usize]) -> Vec<(f64, usize, usize)> {
    let mut pairs = Vec::new();
    for (i, &p) in of.iter().enumerate() {
        for &q in &of[i + 1..] {
            pairs.push((distance(spots[p].at, spots[q].at), p, q));
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    pairs
}

/// Spots in squares of the paper, so that only those near a place are looked at.
struct Cells<'a> {
    spots: &'a [Spot],
    corner: PointMm,
    size: [usize; 2],
    cells: Vec<Vec<usize>>,
}

impl<'a> Cells<'a> {
    /// Twice the reach, so that a place has to look at four squares at most.
    const SIDE_MM: f64 = 2.0 * TRY_MM;
    /// More squares than a photo's paper has: spots a horizon away share the last ones.
    const MOST: f64 = 400.0;

    fn of(spots: &'a [Spot], of: &[usize]) -> Cells<'a> {
        let end = |axis: usize, pick: fn(f64, f64) -> f64, start| {
            of.iter().map(|&i| spots[i].at[axis]).fold(start, pick)
        };
        let corner = [0, 1].map(|axis| end(axis, f64::min, f64::INFINITY));
        let size = [0, 1].map(|axis| {
            let span = end(axis, f64::max, f64::NEG_INFINITY) - corner[axis];
            (span / Self::SIDE_MM).clamp(0.0, Self::MOST) as usize + 1
        });
        let mut cells = Cells {
            spots,
            corner,
            size,
            cells: vec![Vec::new(); size[0] * size[1]],
        };
        for &i in of {
            let [x, y] = cells.cell(spots[i].at);
            let (x, y) = (
                x.clamp(0, size[0] as i64 - 1),
                y.clamp(0, size[1] as i64 - 1),
            );
            cells.cells[y as usize * size[0] + x as usize].push(i);
        }
        cells
    }

    fn cell(&self, at: PointMm) -> [i64; 2] {
        [0, 1].map(|axis| ((at[axis] - self.corner[axis]) / Self::SIDE_MM).floor() as i64)
    }

    /// There is one of that size within reach.
    fn has(&self, at: PointMm, like: &Spot) -> bool {
        let low = self.cell([at[0] - TRY_MM, at[1] - TRY_MM]);
        let high = self.cell([at[0] + TRY_MM, at[1] + TRY_MM]);
        (low[1]..=high[1]).any(|y| {
            (low[0]..=high[0]).any(|x| {
                let within = |v: i64, most: usize| v >= 0 && v < most as i64;
                let inside = within(x, self.size[0]) && within(y, self.size[1]);
                let cell = inside.then(|| &self.cells[y as usize * self.size[0] + x as usize]);
                cell.into_iter().flatten().any(|&j| {
                    distance(at, self.spots[j].at) < TRY_MM && alike(like, &self.spots[j])
                })
            })
        })
    }
}

/// How many of the pieces tried have one of their size near where they go.
fn votes(a: &[Spot], of_a: &[usize], b: &Cells, motion: &Motion) -> usize {
    let has = |&&i: &&usize| b.has(motion.apply(a[i].at), &a[i]);
    of_a.iter().filter(has).count()
}

/// One to one, the nearest first.
pub(crate) fn pair_up(a: &Sheet, b: &Sheet, motion: &Motion, reach: f64) -> Vec<(usize, usize)> {
    let mut near: Vec<(f64, usize, usize)> = Vec::new();
    for (i, p) in a.spots.iter().enumerate() {
        let to = motion.apply(p.at);
        for (j, q) in b.spots.iter().enumerate() {
            let d = distance(to, q.at);
            if d < reach && alike(p, q) {
                near.push((d, i, j));
            }
        }
    }
    near.sort_by(|x, y| x.0.total_cmp(&y.0).then((x.1, x.2).cmp(&(y.1, y.2))));
    let (mut had_a, mut had_b) = (vec![false; a.spots.len()], vec![false; b.spots.len()]);
    let mut partners = Vec::new();
    for (_, i, j) in near {
        if !had_a[i] && !had_b[j] {
            (had_a[i], had_b[j]) = (true, true);
            partners.push((i, j));
        }
    }
    partners.sort_unstable();
    partners
}

/// So many partners are to be had by chance: pieces strewn evenly over what `b` sees, under the best
/// of as many motions as were tried.
fn by_chance(a: &Sheet, b: &Sheet, motion: &Motion, partners: usize, tried: usize) -> bool {
    let seen: Vec<&Spot> = a
        .spots
        .iter()
        .filter(|p| b.sees(motion.apply(p.at), 0.0))
        .collect();
    let area: f64 = b.tiles().iter().map(|(_, area)| area).sum();
    if seen.len() < partners || area <= 0.0 {
        return true;
    }
    let like: usize = seen
        .iter()
        .map(|p| b.spots.iter().filter(|q| alike(p, q)).count())
        .sum();
    let mean_like = like as f64 / seen.len() as f64;
    let p = (mean_like * std::f64::consts::PI * TRY_MM * TRY_MM / area).min(1.0);
    // The two pieces that gave the motion fall together of themselves. The reach is that of the trial:
    // within it the motion was moved until most fell together.
    let tail = ln_binomial_tail(seen.len().saturating_sub(2), partners.saturating_sub(2), p);
    (tried.max(1) as f64).ln() + tail > FALSE_ALARMS.ln()
}
