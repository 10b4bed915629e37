//! The order in which the bolts of one pan are tightened.
//!
//! The trade says: from the middle outwards, crosswise. So here:
//!
//! 1. begin with the bolt nearest the middle of all bolts;
//! 2. of the bolts left, those count that are no further from the middle than the
//!    nearest of them, give or take [`RING`] of the furthest of all: the work goes
//!    outwards, and on a long pan the corners come last;
//! 3. every second bolt is the one across from the bolt before it, further out where none
//!    of those is across;
//! 4. else the one least crowded by bolts already tight (sum of inverse squared
//!    distances), so that the clamped places spread evenly;
//! 5. when two are equal, the one given first.
//!
//! On a round flange, where all are as far from the middle, this gives the star
//! patterns in common use (4: 1-3-2-4; 8: 1-5-3-7-2-6-4-8; 12:
//! 1-7-4-10-2-8-5-11-3-9-6-12; 16: 1-9-5-13-3-11-7-15-2-10-6-14-4-12-8-16).

/// Bolts whose distances from the middle differ by less than this share of the
/// furthest bolt's are as far out (ours): taps on a photo are never quite even.
const RING: f64 = 0.12;

/// Differences below this share are none.
const SAME: f64 = 1e-6;

/// The order of the bolts as indices into `bolts`, each once. Points in any one
/// unit (pixels or mm); no more is asked of them than to be told apart.
pub fn cross_sequence(bolts: &[[f64; 2]]) -> Vec<u32> {
    let middle = centroid(bolts);
    let at = |i: usize| {
        let [x, y] = bolts.get(i).copied().unwrap_or(middle);
        [x - middle[0], y - middle[1]]
    };
    let out = |i: usize| distance(at(i), [0.0, 0.0]);
    let furthest = (0..bolts.len()).map(out).fold(0.0, f64::max);
    let mut left: Vec<usize> = (0..bolts.len()).collect();
    let mut order: Vec<usize> = Vec::with_capacity(bolts.len());
    while !left.is_empty() {
        let nearest = left.iter().map(|i| out(*i)).fold(f64::INFINITY, f64::min);
        let ring: Vec<usize> = left
            .iter()
            .copied()
            .filter(|i| out(*i) <= nearest + RING * furthest)
            .collect();
        let crowding = |i: usize| -> f64 {
            order
                .iter()
                .map(|tight| distance(at(i), at(*tight)).powi(-2).min(1e12))
                .sum()
        };
        let next = match order.last() {
            None => first(&ring, out),
            Some(&last) if order.len() % 2 == 1 => across(&ring, at(last), at)
                .or_else(|| across(&left, at(last), at))
                .or_else(|| first(&ring, |i| -distance(at(i), at(last)))),
            Some(_) => first(&ring, crowding),
        };
        let Some(next) = next else { break };
        left.retain(|i| *i != next);
        order.push(next);
    }
    order.into_iter().map(|i| i as u32).collect()
}

/// The bolt across the middle from `last`; `None` where none is.
fn across(ring: &[usize], last: [f64; 2], at: impl Fn(usize) -> [f64; 2]) -> Option<usize> {
    let [x, y] = last;
    let beyond: Vec<usize> = ring
        .iter()
        .copied()
        .filter(|i| {
            let [a, b] = at(*i);
            a * x + b * y < 0.0
        })
        .collect();
    first(&beyond, |i| distance(at(i), [-x, -y]))
}

/// The first of the smallest, where nearly equal counts as equal.
fn first(of: &[usize], by: impl Fn(usize) -> f64) -> Option<usize> {
    let mut best: Option<(usize, f64)> = None;
    for i in of {
        let value = by(*i);
        let better = best.is_none_or(|(_, b)| value < b - SAME * b.abs());
        if better {
            best = Some((*i, value));
        }
    }
    best.map(|(i, _)| i)
}

fn centroid(points: &[[f64; 2]]) -> [f64; 2] {
    let n = points.len().max(1) as f64;
    let sum = points
        .iter()
        .fold([0.0, 0.0], |[x, y], p| [x + p[0], y + p[1]]);
    [sum[0] / n, sum[1] / n]
}

fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}
