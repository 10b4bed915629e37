//! The order in which the bolts of one pan are tightened.
//!
//! The trade says: from the middle, crosswise, each next bolt far from the last.
//! "The furthest from the last" alone would hop between the two ends of a long
//! pan and leave its middle, so the rule here is:
//!
//! 1. begin with the bolt nearest the middle of all bolts;
//! 2. of the bolts left, those count whose distance from the last is at least
//!    [`FAR`] of the largest there is;
//! 3. of these, take the one least crowded by bolts already tight (sum of
//!    inverse squared distances), so that the clamped places spread evenly;
//! 4. when two are equal, the one given first.
//!
//! On a round flange this gives the star patterns in common use (4: 1-3-2-4;
//! 8: 1-5-3-7-2-6-4-8; 12: 1-7-4-10-2-8-5-11-3-9-6-12; of 16 the first eight).

/// Share of the largest distance from the last bolt that still counts as far.
/// Below 1/√2 a square neighbour counts too, which a cross needs.
const FAR: f64 = 0.7;

/// Taps on a photo are never quite even: differences below this share are none.
const SAME: f64 = 1e-6;

/// The order of the bolts as indices into `bolts`, each once. Points in any one
/// unit (pixels or mm); no more is asked of them than to be told apart.
pub fn cross_sequence(bolts: &[[f64; 2]]) -> Vec<u32> {
    let mut left: Vec<usize> = (0..bolts.len()).collect();
    let mut order: Vec<usize> = Vec::with_capacity(bolts.len());
    let at = |i: usize| bolts.get(i).copied().unwrap_or([0.0, 0.0]);
    let middle = centroid(bolts);
    while !left.is_empty() {
        let next = match order.last() {
            None => first(&left, |i| distance(at(i), middle)),
            Some(&last) => {
                let furthest = left
                    .iter()
                    .map(|i| distance(at(*i), at(last)))
                    .fold(0.0, f64::max);
                let far: Vec<usize> = left
                    .iter()
                    .copied()
                    .filter(|i| distance(at(*i), at(last)) >= FAR * furthest)
                    .collect();
                let crowding = |i: usize| -> f64 {
                    order
                        .iter()
                        .map(|tight| distance(at(i), at(*tight)).powi(-2).min(1e12))
                        .sum()
                };
                first(&far, crowding)
            }
        };
        let Some(next) = next else { break };
        left.retain(|i| *i != next);
        order.push(next);
    }
    order.into_iter().map(|i| i as u32).collect()
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
