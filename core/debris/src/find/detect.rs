//! Where the picture differs from its ground more than the ground itself varies.

use super::ground::Ground;
use super::label::{Component, Run, components, push_runs};
use super::work::Work;

/// A pixel belongs to a candidate when it differs by this many robust standard deviations ...
const GROW: f32 = 2.2;
/// ... or by this much of 255 where the ground is very even,
const GROW_LEAST: f32 = 6.0;
/// and a candidate counts when one pixel differs by this many times the above.
const SEED: f32 = 1.7;

/// How often, and each time by how much, the threshold is raised to part what is refused.
const PARTINGS: usize = 5;
const PARTING: f32 = 1.5;

/// A connected patch of difference, in work pixels.
#[derive(Debug, Clone)]
pub(crate) struct Candidate {
    pub(crate) component: Component,
    /// Largest difference in it, of 255.
    pub(crate) peak: u8,
}

impl Candidate {
    /// Longer side of its box, work pixels.
    pub(crate) fn size(&self) -> f64 {
        let c = &self.component;
        f64::from((c.x1 - c.x0).max(c.y1 - c.y0))
    }
}

/// Difference to the ground, largest of the channels, with narrow gaps closed: a flake's
/// streaks, some brighter and some darker than the ground, are one piece.
pub(crate) fn difference(work: &Work, ground: &Ground) -> Vec<u8> {
    let mut difference = vec![0u8; work.width * work.height];
    let mut behind = Vec::with_capacity(3 * work.width);
    for (y, out) in difference.chunks_exact_mut(work.width).enumerate() {
        let here = &work.rgb[3 * y * work.width..3 * (y + 1) * work.width];
        difference_row(ground, y, here, &mut behind, out);
    }
    close(&difference, work.width)
}

/// Candidates of a difference, masked pixels left out, where it is `higher` times the least that
/// counts. What `good` refuses is parted at rising thresholds until it takes the parts: a piece
/// stands out of the stain that it lies in.
pub(crate) fn candidates(
    difference: &[u8],
    width: usize,
    ground: &Ground,
    mask: &[u8],
    faint: f32,
    good: impl Fn(&Candidate) -> bool,
) -> Vec<Candidate> {
    let mut runs = Vec::new();
    let mut set = vec![0u8; width];
    let lines = difference.chunks_exact(width).zip(mask.chunks_exact(width));
    for (y, (line, hidden)) in lines.enumerate() {
        threshold_row(ground, y, faint, line, hidden, &mut set);
        push_runs(y as u32, &set, &mut runs);
    }
    let candidate = |component: Component| {
        let peak = pixels(&component, width).map(|at| difference[at]).max()?;
        let middle = |a: u32, b: u32| f64::from(a + b) / 2.0;
        let (_, spread) = ground.at(
            middle(component.x0, component.x1),
            middle(component.y0, component.y1),
        )?;
        let least = threshold(spread as f32) * SEED;
        (f32::from(peak) >= least * faint).then_some(Candidate { component, peak })
    };
    let all = components(&runs).into_iter().filter_map(candidate);
    let (mut taken, mut refused): (Vec<_>, Vec<_>) = all.partition(&good);
    let mut higher = faint;
    for _ in 0..PARTINGS {
        higher *= PARTING;
        let parts = refused.iter().flat_map(|c| {
            let above = runs_above(&c.component, difference, width, ground, higher);
            components(&above)
        });
        let all = parts.filter_map(candidate);
        let (more, still): (Vec<_>, Vec<_>) = all.partition(&good);
        taken.extend(more);
        refused = still;
    }
    taken
}

/// Runs of a component where the difference is more than `higher` times the least that counts.
fn runs_above(
    component: &Component,
    difference: &[u8],
    width: usize,
    ground: &Ground,
    higher: f32,
) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for r in &component.runs {
        let line = &difference[r.y as usize * width..(r.y as usize + 1) * width];
        let mut level = (u32::MAX, 0.0);
        for x in r.x0..r.x1 {
            let block = x / ground.pitch as u32;
            if level.0 != block {
                let spread = spread_at(ground, r.y as usize, block as usize);
                level = (block, threshold(spread) * higher);
            }
            if f32::from(line[x as usize]) <= level.1 {
                continue;
            }
            match runs.last_mut() {
                Some(last) if last.y == r.y && last.x1 == x => last.x1 = x + 1,
                _ => runs.push(Run {
                    y: r.y,
                    x0: x,
                    x1: x + 1,
                }),
            }
        }
    }
    runs
}

/// Indices of a component's pixels.
pub(crate) fn pixels(component: &Component, width: usize) -> impl Iterator<Item = usize> {
    component.runs.iter().flat_map(move |r| {
        let from = r.y as usize * width;
        from + r.x0 as usize..from + r.x1 as usize
    })
}

/// Least difference of a candidate's pixel on ground of this spread. The largest of three
/// channel differences is about 1.4 times as wide as brightness, and half the distance of the
/// quartiles is 0.67 standard deviations.
pub(crate) fn threshold(spread: f32) -> f32 {
    (GROW * 1.4826 * 1.4 * spread).max(GROW_LEAST)
}

/// Between two nodes that may have seen nothing.
fn mix(p: f32, q: f32, f: f32) -> f32 {
    match (p.is_nan(), q.is_nan()) {
        (true, _) => q,
        (_, true) => p,
        _ => p + (q - p) * f,
    }
}

/// The rows of nodes above and below row `y`: where they begin, and how far `y` is down from one to
/// the other.
fn nodes_around(ground: &Ground, y: usize) -> (usize, usize, f32) {
    let v = y as f32 / ground.pitch as f32;
    let j = (v as usize).min(ground.rows - 2);
    (j * ground.columns, (j + 1) * ground.columns, v - j as f32)
}

/// Spread at the nodes of column `i`, between the rows of nodes around row `y`.
fn spread_at(ground: &Ground, y: usize, i: usize) -> f32 {
    let (a, b, f) = nodes_around(ground, y);
    mix(ground.spread[a + i], ground.spread[b + i], f)
}

/// One row: the largest channel difference to the interpolated ground; 0 where there is none.
/// `behind` is for the row's ground, in 64ths, three numbers a pixel.
fn difference_row(ground: &Ground, y: usize, rgb: &[u8], behind: &mut Vec<i16>, out: &mut [u8]) {
    let (above, below, f) = nodes_around(ground, y);
    let node = |i: usize| -> [f32; 3] {
        let (a, b) = (ground.colour[above + i], ground.colour[below + i]);
        std::array::from_fn(|c| mix(a[c], b[c], f))
    };
    // 255 in 64ths is half of the type's range.
    let fixed = |c: [f32; 3]| c.map(|v| (v * 64.0) as i16);
    behind.clear();
    // Of numbers below 2^15 the quotient's whole part is that of whole numbers, and found sooner.
    let pitch = ground.pitch as f32;
    let mut left = node(0);
    for i in 0..ground.columns - 1 {
        let right = node(i + 1);
        let (x0, x1) = (i * ground.pitch, ((i + 1) * ground.pitch).min(out.len()));
        let (l, r) = match (left[0].is_nan(), right[0].is_nan()) {
            (true, true) => {
                // Its own ground: no difference.
                behind.extend(rgb[3 * x0..3 * x1].iter().map(|p| i16::from(*p) * 64));
                left = right;
                continue;
            }
            (true, false) => (right, right),
            (false, true) => (left, left),
            (false, false) => (left, right),
        };
        let (mut g, r) = (fixed(l), fixed(r));
        let slope: [i16; 3] = std::array::from_fn(|c| (f32::from(r[c] - g[c]) / pitch) as i16);
        for _ in x0..x1 {
            behind.extend(g);
            g = std::array::from_fn(|c| g[c] + slope[c]);
        }
        left = right;
    }
    // Row-wide, so that several numbers are taken at once.
    for (g, p) in behind.iter_mut().zip(rgb) {
        *g = (i16::from(*p) * 64 - *g).abs() >> 6;
    }
    for (d, g) in out.iter_mut().zip(behind.chunks_exact(3)) {
        *d = g[0].max(g[1]).max(g[2]) as u8;
    }
}

fn threshold_row(
    ground: &Ground,
    y: usize,
    higher: f32,
    line: &[u8],
    hidden: &[u8],
    set: &mut [u8],
) {
    let mut left = higher * threshold(spread_at(ground, y, 0));
    for i in 0..ground.columns - 1 {
        let right = higher * threshold(spread_at(ground, y, i + 1));
        let (x0, x1) = (i * ground.pitch, ((i + 1) * ground.pitch).min(line.len()));
        if x0 >= x1 {
            break;
        }
        let level = left.max(right).min(255.0) as u8;
        let pixels = line[x0..x1].iter().zip(&hidden[x0..x1]);
        for (set, (d, hidden)) in set[x0..x1].iter_mut().zip(pixels) {
            *set = u8::from(*d > level) & u8::from(*hidden == 0);
        }
        left = right;
    }
}

/// Grey closing by a 3 x 3 square: the least of the greatest.
fn close(values: &[u8], width: usize) -> Vec<u8> {
    let grown = sweep(values, width, u8::max);
    sweep(&grown, width, u8::min)
}

/// The extreme of each 3 x 3 neighbourhood; the border keeps what it has.
fn sweep(values: &[u8], width: usize, of: impl Fn(u8, u8) -> u8 + Copy) -> Vec<u8> {
    let height = values.len() / width;
    let mut out = values.to_vec();
    let mut column = vec![0u8; width];
    for y in 1..height.saturating_sub(1) {
        let rows = &values[(y - 1) * width..(y + 2) * width];
        let (a, rest) = rows.split_at(width);
        let (b, c) = rest.split_at(width);
        for ((k, a), (b, c)) in column.iter_mut().zip(a).zip(b.iter().zip(c)) {
            *k = of(of(*a, *b), *c);
        }
        let line = &mut out[y * width + 1..(y + 1) * width - 1];
        for (o, k) in line.iter_mut().zip(column.windows(3)) {
            *o = of(of(k[0], k[1]), k[2]);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        /// Pixel by pixel in whole numbers, as it is meant: the ground goes evenly from node to node.
        #[test]
        fn a_row_at_once_as_pixel_by_pixel(
            pitch in 2usize..40,
            nodes in proptest::collection::vec(
                (proptest::array::uniform3(0f32..255.0), proptest::bool::weighted(0.2)), 6..16),
            y in 0usize..40,
            bytes in proptest::collection::vec(proptest::num::u8::ANY, 3..200),
        ) {
            let width = bytes.len() / 3;
            let columns = width.div_ceil(pitch) + 1;
            let (rgb, y) = (&bytes[..3 * width], y % pitch);
            let colour: Vec<[f32; 3]> = nodes
                .iter()
                .cycle()
                .take(2 * columns)
                .map(|(c, unseen)| if *unseen { [f32::NAN; 3] } else { *c })
                .collect();
            let ground = Ground { columns, rows: 2, pitch, spread: vec![0.0; colour.len()], colour };
            let mut row = vec![7; width];
            difference_row(&ground, y, rgb, &mut Vec::new(), &mut row);
            let node = |i: usize, c: usize| {
                let (a, b) = (ground.colour[i][c], ground.colour[columns + i][c]);
                let one = if a.is_nan() { b } else { a };
                let between = a + (b - a) * (y as f32 / pitch as f32);
                let v = if between.is_nan() { one } else { between };
                (!v.is_nan()).then_some((v * 64.0) as i32)
            };
            for (x, told) in row.iter().enumerate() {
                let difference = |c: usize| {
                    let (left, right) = (node(x / pitch, c), node(x / pitch + 1, c));
                    let (l, r) = (left.or(right)?, right.or(left)?);
                    let behind = l + (r - l) / pitch as i32 * (x % pitch) as i32;
                    Some((i32::from(rgb[3 * x + c]) * 64 - behind).abs() >> 6)
                };
                let most = (0..3).filter_map(difference).max().unwrap_or(0);
                proptest::prop_assert_eq!(i32::from(*told), most);
            }
        }
    }
}
