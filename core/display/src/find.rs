//! Where the row of figures is: a look at the whole frame, and a closer one, straight.

use crate::grey::{Grey, even};
use crate::net::{Layer, Planes};
use crate::plane::{Homography, Quad};

/// Longer side of a frame as the network sees it, px: small first, larger where nothing is seen.
const SIDES: [usize; 2] = [320, 560];
/// The side of its cells, px.
const CELL: usize = 4;
/// The closer look: its size, and how high the row is in it, px.
const NEAR: (usize, usize) = (320, 96);
const NEAR_HIGH: f64 = 28.0;
/// The longest row that it takes whole, px.
const NEAR_LONG: f64 = 276.0;
/// Cells that a row has at least in the first look.
const LEAST_CELLS: usize = 6;
/// A row's mean likelihood at least.
const LEAST_MEAN: f32 = 0.6;

/// A row of figures in a picture.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Row {
    pub(crate) quad: Quad,
    /// How sure its cells are, 0 to 1.
    pub(crate) p: f32,
}

/// Log odds of the cells of a frame.
fn cells(layers: &[Layer], frame: Vec<f32>, width: usize, height: usize) -> Option<Planes> {
    let [a, b, c, d, e, deep @ .., to_8, at_8, to_4, at_4, last] = layers else {
        return None;
    };
    let mut tones = frame;
    even(&mut tones);
    let fine = c.run(&b.run(&a.run(&Planes::of(width, height, tones))));
    let middle = e.run(&d.run(&fine));
    let coarse = deep
        .iter()
        .fold(middle.clone(), |planes, layer| layer.run(&planes));
    let middle = at_8.run(&to_8.run_onto(&coarse, &middle));
    Some(last.run(&at_4.run(&to_4.run_onto(&middle, &fine))))
}

/// The row of figures, when one is seen.
pub(crate) fn row(layers: &[Layer], grey: &Grey) -> Option<Row> {
    SIDES.into_iter().find_map(|side| {
        let rough = first(layers, grey, side)?;
        // Twice, since the first time it may lie aslant and cut off.
        let near = closer(layers, grey, rough)?;
        closer(layers, grey, near.quad)
    })
}

/// Roughly where the row is, by a look at the whole frame.
fn first(layers: &[Layer], grey: &Grey, side: usize) -> Option<Quad> {
    let (w, h) = (grey.width as f64, grey.height as f64);
    let whole = |length: f64| {
        let cells = (length / w.max(h) * side as f64 / 16.0).round();
        (cells.max(1.0) as usize) * 16
    };
    let (width, height) = (whole(w), whole(h));
    let plane = Homography::over(
        [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]],
        width as f64,
        height as f64,
    )?;
    let odds = cells(layers, grey.under(&plane, width, height), width, height)?;
    let rough = largest(&odds)?.rough();
    Some(rough.map(|p| plane.at(p)))
}

/// Looks again at a row that is roughly known, turned straight and at one size.
fn closer(layers: &[Layer], grey: &Grey, quad: Quad) -> Option<Row> {
    let [a, b, c, d] = quad;
    let mid = |p: [f64; 2], q: [f64; 2]| [(p[0] + q[0]) / 2.0, (p[1] + q[1]) / 2.0];
    let length = |p: [f64; 2], q: [f64; 2]| (q[0] - p[0]).hypot(q[1] - p[1]);
    let (left, right, top, end) = (mid(a, d), mid(b, c), mid(a, b), mid(d, c));
    let (long, high) = (length(left, right), length(top, end));
    let middle = mid(left, right);
    let has_area = long > 1.0 && high > 1.0;
    if !has_area {
        return None;
    }
    let turn = ((right[1] - left[1]) / long, (right[0] - left[0]) / long);
    // Px of the frame that a px of the closer look is.
    let scale = (high / NEAR_HIGH).max(long / NEAR_LONG);
    let (width, height) = (NEAR.0 as f64, NEAR.1 as f64);
    let place = |x: f64, y: f64| {
        let (x, y) = ((x - width / 2.0) * scale, (y - height / 2.0) * scale);
        [
            middle[0] + x * turn.1 - y * turn.0,
            middle[1] + x * turn.0 + y * turn.1,
        ]
    };
    let corners = [
        place(0.0, 0.0),
        place(width, 0.0),
        place(width, height),
        place(0.0, height),
    ];
    let plane = Homography::over(corners, width, height)?;
    let tones = grey.under(&plane, NEAR.0, NEAR.1);
    let odds = cells(layers, tones, NEAR.0, NEAR.1)?;
    let patch = largest(&odds)?;
    let quad = patch.edges(&odds)?;
    Some(Row {
        quad: quad.map(|p| plane.at(p)),
        p: patch.mean,
    })
}

/// Cells that hang together, as a list of (column, row).
struct Patch {
    cells: Vec<(usize, usize)>,
    mean: f32,
}

/// The patch with the most likelihood.
fn largest(odds: &Planes) -> Option<Patch> {
    let (width, height) = (odds.width, odds.height);
    let mut seen: Vec<bool> = odds.values.iter().map(|v| *v <= 0.0).collect();
    let mut best: Option<(f32, Patch)> = None;
    for start in 0..seen.len() {
        if seen[start] {
            continue;
        }
        seen[start] = true;
        let (mut cells, mut next, mut sum) = (vec![(start % width, start / width)], 0, 0.0);
        while let Some(&(x, y)) = cells.get(next) {
            next += 1;
            let at = y * width + x;
            sum += sigmoid(odds.values[at]);
            let around = [
                (x > 0).then(|| (x - 1, y)),
                (x + 1 < width).then_some((x + 1, y)),
                (y > 0).then(|| (x, y - 1)),
                (y + 1 < height).then_some((x, y + 1)),
            ];
            for (x, y) in around.into_iter().flatten() {
                let at = y * width + x;
                if !seen[at] {
                    seen[at] = true;
                    cells.push((x, y));
                }
            }
        }
        let mean = sum / cells.len() as f32;
        let counts = cells.len() >= LEAST_CELLS && mean >= LEAST_MEAN;
        if counts && best.as_ref().is_none_or(|(most, _)| sum > *most) {
            best = Some((sum, Patch { cells, mean }));
        }
    }
    best.map(|(_, patch)| patch)
}

fn sigmoid(x: f32) -> f32 {
    1.0 / (1.0 + (-x).exp())
}

/// A line by least squares through (t, v), once more without what lies far off.
fn line(points: &[(f64, f64)], slope: Option<f64>) -> Option<(f64, f64)> {
    let fit = |points: &[(f64, f64)]| {
        let n = points.len() as f64;
        let (t, v) = points
            .iter()
            .fold((0.0, 0.0), |(t, v), p| (t + p.0 / n, v + p.1 / n));
        let (over, under) = points.iter().fold((0.0, 1e-9), |(o, u), p| {
            (o + (p.0 - t) * (p.1 - v), u + (p.0 - t).powi(2))
        });
        let slope = slope.unwrap_or(if points.len() > 2 { over / under } else { 0.0 });
        (v - slope * t, slope)
    };
    if points.is_empty() {
        return None;
    }
    let (start, slope_) = fit(points);
    let off = |p: &(f64, f64)| (p.1 - start - slope_ * p.0).abs();
    let mut all: Vec<f64> = points.iter().map(off).collect();
    all.sort_by(f64::total_cmp);
    let far = all[(all.len() - 1) * 3 / 4].mul_add(1.5, 1.0);
    let near: Vec<(f64, f64)> = points.iter().copied().filter(|p| off(p) <= far).collect();
    Some(fit(&near))
}

impl Patch {
    /// Its four corners by where its cells lie, in px; aslant where it is long enough to tell.
    fn rough(&self) -> Quad {
        let middle = |v: usize| (v as f64 + 0.5) * CELL as f64;
        let points: Vec<(f64, f64)> = self
            .cells
            .iter()
            .map(|c| (middle(c.0), middle(c.1)))
            .collect();
        let n = points.len() as f64;
        let mean = points
            .iter()
            .fold((0.0, 0.0), |m, p| (m.0 + p.0 / n, m.1 + p.1 / n));
        let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
        for (x, y) in &points {
            let (dx, dy) = (x - mean.0, y - mean.1);
            xx += dx * dx / n;
            xy += dx * dy / n;
            yy += dy * dy / n;
        }
        let turn = if xx > 2.0 * yy {
            0.5 * (2.0 * xy).atan2(xx - yy)
        } else {
            0.0
        };
        let (sin, cos) = turn.sin_cos();
        // An even row of cells spreads by its side over the root of twelve.
        let along = xx * cos * cos + 2.0 * xy * sin * cos + yy * sin * sin;
        let across = xx * sin * sin - 2.0 * xy * sin * cos + yy * cos * cos;
        let half = |spread: f64| (spread.max(1.0) * 12.0).sqrt() / 2.0 + 1.0;
        let (a, b) = (half(along), half(across));
        [(-a, -b), (a, -b), (a, b), (-a, b)]
            .map(|(x, y)| [mean.0 + x * cos - y * sin, mean.1 + x * sin + y * cos])
    }

    /// Its four edges as lines, to a part of a cell, in px; nothing where they make no row.
    fn edges(&self, odds: &Planes) -> Option<Quad> {
        let (width, height) = (odds.width, odds.height);
        let at = |x: usize, y: usize| f64::from(odds.values[y * width + x]);
        let px = |v: f64| (v + 0.5) * CELL as f64;
        // Where the odds cross nought between a cell and its neighbour outside.
        let cross = |inside: f64, outside: Option<f64>| match outside {
            Some(out) if out <= 0.0 => inside / (inside - out),
            _ => 0.5,
        };
        let mut columns = vec![None; width];
        let mut rows = vec![None; height];
        for &(x, y) in &self.cells {
            let grow = |span: &mut Option<(usize, usize)>, v: usize| {
                *span = Some(span.map_or((v, v), |(a, b)| (a.min(v), b.max(v))));
            };
            grow(&mut columns[x], y);
            grow(&mut rows[y], x);
        }
        let (mut top, mut end, mut left, mut right) = (vec![], vec![], vec![], vec![]);
        for (x, span) in columns.iter().enumerate() {
            if let Some((a, b)) = *span {
                let above = (a > 0).then(|| at(x, a - 1));
                let below = (b + 1 < height).then(|| at(x, b + 1));
                top.push((px(x as f64), px(a as f64 - cross(at(x, a), above))));
                end.push((px(x as f64), px(b as f64 + cross(at(x, b), below))));
            }
        }
        for (y, span) in rows.iter().enumerate() {
            if let Some((a, b)) = *span {
                let before = (a > 0).then(|| at(a - 1, y));
                let behind = (b + 1 < width).then(|| at(b + 1, y));
                left.push((px(y as f64), px(a as f64 - cross(at(a, y), before))));
                right.push((px(y as f64), px(b as f64 + cross(at(b, y), behind))));
            }
        }
        // The outermost rows and columns are the rounded corners of the patch.
        let inner = |points: Vec<(f64, f64)>| {
            let cut = usize::from(points.len() > 4);
            points[cut..points.len() - cut].to_vec()
        };
        let (left, right) = (inner(left), inner(right));
        let (top, end) = (line(&inner(top), None)?, line(&inner(end), None)?);
        let slope = (line(&left, None)?.1 + line(&right, None)?.1) / 2.0;
        let (left, right) = (line(&left, Some(slope))?, line(&right, Some(slope))?);
        let meet = |flat: (f64, f64), upright: (f64, f64)| {
            // y = a + b x and x = c + d y
            let y = (flat.0 + flat.1 * upright.0) / (1.0 - flat.1 * upright.1);
            [upright.0 + upright.1 * y, y]
        };
        let quad = [
            meet(top, left),
            meet(top, right),
            meet(end, right),
            meet(end, left),
        ];
        let sound = quad[1][0] > quad[0][0] + 2.0
            && quad[2][0] > quad[3][0] + 2.0
            && quad[3][1] > quad[0][1] + 4.0
            && quad[2][1] > quad[1][1] + 4.0;
        sound.then_some(quad)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn odds(inside: impl Fn(f64, f64) -> f64) -> Planes {
        let values = (0..24 * 80)
            .map(|at| {
                let (x, y) = ((at % 80) as f64 + 0.5, (at / 80) as f64 + 0.5);
                inside(x * 4.0, y * 4.0) as f32
            })
            .collect();
        Planes::of(80, 24, values)
    }

    #[test]
    fn edges_lie_where_the_odds_cross_nought() {
        // A box from (40, 30) to (240, 62), odds by the distance from its border.
        let odds = odds(|x, y| (x - 40.0).min(240.0 - x).min(y - 30.0).min(62.0 - y));
        let patch = largest(&odds).expect("a patch");
        let quad = patch.edges(&odds).expect("edges");
        let want = [[40.0, 30.0], [240.0, 30.0], [240.0, 62.0], [40.0, 62.0]];
        for (have, want) in quad.iter().zip(want) {
            assert!(
                (have[0] - want[0]).abs() < 1.0 && (have[1] - want[1]).abs() < 1.0,
                "{quad:?}"
            );
        }
    }

    #[test]
    fn a_row_that_lies_aslant_is_roughly_so() {
        let odds = odds(|x, y| {
            let across = (y - 48.0) - 0.2 * (x - 160.0);
            (12.0 - across.abs()).min(90.0 - (x - 160.0).abs())
        });
        let [a, b, ..] = largest(&odds).expect("a patch").rough();
        let slope = (b[1] - a[1]) / (b[0] - a[0]);
        assert!((slope - 0.2).abs() < 0.03, "{slope}");
    }

    #[test]
    fn a_few_cells_are_no_row() {
        let odds = odds(|x, y| {
            if (x - 50.0).hypot(y - 50.0) < 5.0 {
                4.0
            } else {
                -4.0
            }
        });
        assert!(largest(&odds).is_none());
    }
}
