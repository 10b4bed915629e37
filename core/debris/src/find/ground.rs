//! The ground behind the particles: the median colour of a neighbourhood some
//! millimetres wide, and how much the ground itself varies there.

use super::work::Work;

/// Half a side of the neighbourhood, mm. A particle must fill less than half of it: up to
/// 3.5 mm across is safe; a stain's edge is followed within about this distance.
const HALF_MM: f64 = 2.5;

/// Ground colour and its variation on a grid of nodes.
#[derive(Debug, Clone)]
pub(crate) struct Ground {
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Distance of nodes, work pixels.
    pub(crate) pitch: usize,
    /// Median colour at each node.
    pub(crate) colour: Vec<[f32; 3]>,
    /// Median absolute deviation of the largest channel difference.
    pub(crate) spread: Vec<f32>,
}

/// The ground of a work picture; `masked` nodes (print) are left out of it.
pub(crate) fn ground_of(
    work: &Work,
    px_per_mm: f64,
    hidden: &dyn Fn(usize, usize) -> bool,
) -> Ground {
    let half = (HALF_MM * px_per_mm).max(6.0);
    let pitch = ((half / 1.6) as usize).max(3);
    let columns = work.width.div_ceil(pitch) + 1;
    let rows = work.height.div_ceil(pitch) + 1;
    // About 15 samples a side of the neighbourhood.
    let stride = ((2.0 * half / 15.0) as usize).max(1);
    let reach = half as usize / stride;
    let mut colour = Vec::with_capacity(columns * rows);
    let mut spread = Vec::with_capacity(columns * rows);
    let mut lists: [Vec<u8>; 3] = Default::default();
    let mut deviations: Vec<u8> = Vec::new();
    for row in 0..rows {
        for column in 0..columns {
            let (cx, cy) = ((column * pitch) as i64, (row * pitch) as i64);
            lists.iter_mut().for_each(Vec::clear);
            for j in -(reach as i64)..=reach as i64 {
                let y = cy + j * stride as i64;
                if y < 0 || y >= work.height as i64 {
                    continue;
                }
                for i in -(reach as i64)..=reach as i64 {
                    let x = cx + i * stride as i64;
                    if x < 0 || x >= work.width as i64 || hidden(x as usize, y as usize) {
                        continue;
                    }
                    let at = 3 * (y as usize * work.width + x as usize);
                    for (list, v) in lists.iter_mut().zip(&work.rgb[at..at + 3]) {
                        list.push(*v);
                    }
                }
            }
            if lists[0].len() < 8 {
                colour.push([f32::NAN; 3]);
                spread.push(0.0);
                continue;
            }
            let pixels = lists.clone();
            let middle = lists[0].len() / 2;
            let median = lists.each_mut().map(|l| *l.select_nth_unstable(middle).1);
            deviations.clear();
            deviations.extend((0..pixels[0].len()).map(|i| {
                (0..3)
                    .map(|c| pixels[c][i].abs_diff(median[c]))
                    .max()
                    .unwrap_or(0)
            }));
            spread.push(f32::from(*deviations.select_nth_unstable(middle).1));
            colour.push(median.map(f32::from));
        }
    }
    Ground {
        columns,
        rows,
        pitch,
        colour,
        spread,
    }
}

impl Ground {
    /// Colour and spread between nodes, at a work pixel's centre; `None` where all is hidden.
    pub(crate) fn at(&self, x: f64, y: f64) -> Option<([f64; 3], f64)> {
        let (u, v) = (x / self.pitch as f64, y / self.pitch as f64);
        let i = (u.max(0.0) as usize).min(self.columns - 2);
        let j = (v.max(0.0) as usize).min(self.rows - 2);
        let (fu, fv) = (
            (u - i as f64).clamp(0.0, 1.0),
            (v - j as f64).clamp(0.0, 1.0),
        );
        let (mut colour, mut spread, mut weight) = ([0.0; 3], 0.0, 0.0);
        for (di, dj) in [(0, 0), (1, 0), (0, 1), (1, 1)] {
            let at = (j + dj) * self.columns + i + di;
            if self.colour[at][0].is_nan() {
                continue;
            }
            let w = (if di == 0 { 1.0 - fu } else { fu }) * (if dj == 0 { 1.0 - fv } else { fv })
                + 1e-6;
            for c in 0..3 {
                colour[c] += w * f64::from(self.colour[at][c]);
            }
            spread += w * f64::from(self.spread[at]);
            weight += w;
        }
        (weight > 0.0).then(|| (colour.map(|v| v / weight), spread / weight))
    }
}
