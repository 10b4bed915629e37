//! Pieces in the network's planes: what lies within one piece and no other is a seed, and each seed takes the
//! cells that are nearest to it.

use std::collections::VecDeque;

use crate::find::label::{Component, Run, components_of};

/// Fewest cells of a seed.
const LEAST_SEED: u64 = 3;

/// The pieces of a plane: for each cell its owner, from 1 (0 for none), and the owners' cells in that order.
pub(super) fn parts(
    piece: &[i16],
    inner: &[i16],
    width: usize,
    [level, level_inner]: [i16; 2],
) -> (Vec<u32>, Vec<Component>) {
    let within = |at: usize| piece[at] > level;
    let mut seeds = inner_cells(inner, width, level_inner);
    for (seed, piece) in seeds.iter_mut().zip(piece) {
        *seed &= u8::from(*piece > level);
    }
    let mut seeds = components_of(&seeds, width);
    seeds.retain(|seed| seed.area >= LEAST_SEED);
    let mut owner = vec![0u32; piece.len()];
    let mut owners = 0;
    let mut give = |found: &[Component], owner: &mut [u32], queue: &mut VecDeque<u32>| {
        for component in found {
            owners += 1;
            for at in cells(component, width) {
                owner[at] = owners;
                queue.push_back(at as u32);
            }
        }
    };
    let mut queue = VecDeque::new();
    give(&seeds, &mut owner, &mut queue);
    // Step by step from all seeds at once.
    let height = piece.len() / width;
    while let Some(at) = queue.pop_front() {
        let at = at as usize;
        let (x, y) = (at % width, at / width);
        for v in y.saturating_sub(1)..(y + 2).min(height) {
            for u in x.saturating_sub(1)..(x + 2).min(width) {
                let to = v * width + u;
                if owner[to] == 0 && within(to) {
                    owner[to] = owner[at];
                    queue.push_back(to as u32);
                }
            }
        }
    }
    // What has no seed is a piece of its own.
    let rest: Vec<u8> = (0..piece.len())
        .map(|at| u8::from(within(at) && owner[at] == 0))
        .collect();
    give(&components_of(&rest, width), &mut owner, &mut queue);
    let all = gathered(&owner, width, owners);
    (owner, all)
}

/// Where the mean of 3 x 3 cells is above a level: what lies within a piece is told cell by cell, and a seam is
/// wider than one.
fn inner_cells(inner: &[i16], width: usize, level: i16) -> Vec<u8> {
    let height = inner.len() / width;
    let mut out = Vec::with_capacity(inner.len());
    let mut sums = vec![0i32; width];
    for y in 0..height {
        let rows = y.saturating_sub(1)..(y + 2).min(height);
        let down = rows.len();
        sums.fill(0);
        for row in rows {
            for (sum, v) in sums.iter_mut().zip(&inner[row * width..(row + 1) * width]) {
                *sum += i32::from(*v);
            }
        }
        out.extend((0..width).map(|x| {
            let near = &sums[x.saturating_sub(1)..(x + 2).min(width)];
            // The mean against the level, without a division in each cell.
            u8::from(near.iter().sum::<i32>() > i32::from(level) * (near.len() * down) as i32)
        }));
    }
    out
}

/// The cells of each owner, as runs.
fn gathered(owner: &[u32], width: usize, owners: u32) -> Vec<Component> {
    let none = Component {
        runs: Vec::new(),
        area: 0,
        x0: u32::MAX,
        y0: u32::MAX,
        x1: 0,
        y1: 0,
    };
    let mut all = vec![none; owners as usize];
    for (y, row) in owner.chunks_exact(width).enumerate() {
        let mut x = 0;
        while x < width {
            let here = row[x];
            let from = x;
            while x < width && row[x] == here {
                x += 1;
            }
            if here == 0 {
                continue;
            }
            let c = &mut all[here as usize - 1];
            let (y, x0, x1) = (y as u32, from as u32, x as u32);
            c.runs.push(Run { y, x0, x1 });
            c.area += u64::from(x1 - x0);
            (c.x0, c.x1) = (c.x0.min(x0), c.x1.max(x1));
            (c.y0, c.y1) = (c.y0.min(y), c.y1.max(y + 1));
        }
    }
    all
}

/// Places of a component's cells.
pub(super) fn cells(component: &Component, width: usize) -> impl Iterator<Item = usize> {
    component.runs.iter().flat_map(move |r| {
        let from = r.y as usize * width;
        from + r.x0 as usize..from + r.x1 as usize
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows of `#` (within a piece), `+` (a seam's) and anything else.
    fn of(rows: &[&str]) -> (Vec<i16>, Vec<i16>, usize) {
        let all = || rows.iter().flat_map(|r| r.bytes());
        let odds = |yes: bool| if yes { 9 } else { -9 };
        let piece = all().map(|b| odds(b == b'#' || b == b'+')).collect();
        (
            piece,
            all().map(|b| odds(b == b'#')).collect(),
            rows[0].len(),
        )
    }

    fn areas(rows: &[&str]) -> Vec<u64> {
        let (piece, inner, width) = of(rows);
        let (owner, all) = parts(&piece, &inner, width, [0, 0]);
        let held = owner.iter().filter(|o| **o != 0).count() as u64;
        assert_eq!(all.iter().map(|c| c.area).sum::<u64>(), held);
        for (k, c) in all.iter().enumerate() {
            assert!(cells(c, width).all(|at| owner[at] == k as u32 + 1));
        }
        all.iter().map(|c| c.area).collect()
    }

    #[test]
    fn a_seam_parts_what_touches() {
        let apart = ["####..####", "####..####", "####..####", "####..####"];
        assert_eq!(areas(&apart), [16, 16]);
        let touching = ["####++####", "####++####", "####++####", "####++####"];
        assert_eq!(areas(&touching), [20, 20]);
        // A single cell that is no inner one parts nothing.
        let striped = ["####+####", "#########", "####+####", "#########"];
        assert_eq!(areas(&striped), [36]);
        // No seed at all: a piece of its own.
        assert_eq!(areas(&["..+.", ".++.", "...."]), [3]);
        assert_eq!(areas(&["....", "...."]), [0u64; 0]);
    }
}
