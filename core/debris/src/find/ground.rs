//! The ground behind the particles: the middle colour of a neighbourhood some
//! millimetres wide, and how much the ground itself varies there.

use super::work::{HIDDEN, Work};

/// Ground colour and its variation on a grid of nodes.
#[derive(Debug, Clone)]
pub(crate) struct Ground {
    pub(crate) columns: usize,
    pub(crate) rows: usize,
    /// Distance of nodes, work pixels.
    pub(crate) pitch: usize,
    /// Mean of the middle third by brightness, at each node; NaN where nothing is seen.
    pub(crate) colour: Vec<[f32; 3]>,
    /// Half the distance of the quartiles of brightness.
    pub(crate) spread: Vec<f32>,
}

/// How a ground is sampled.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sampling {
    /// Half a side of the neighbourhood, work pixels.
    pub(crate) half: f64,
    /// Samples along that half.
    pub(crate) samples: usize,
    /// Nodes along that half.
    pub(crate) nodes: f64,
}

/// The ground of a work picture by its packed `pixels`, the hidden ones left out. A node that sees
/// less than a quarter of its neighbourhood takes `behind`, when there is one.
pub(crate) fn ground_of(
    work: &Work,
    pixels: &[u32],
    how: Sampling,
    behind: Option<&Ground>,
) -> Ground {
    let pitch = ((how.half / how.nodes).round() as usize).max(2);
    let columns = work.width.div_ceil(pitch) + 1;
    let rows = work.height.div_ceil(pitch) + 1;
    // Columns apart and rows apart: at least so many samples along a row, at most so many rows.
    let apart = how.half / how.samples as f64;
    let strides = [(apart as usize).max(1), apart.ceil() as usize];
    let [reach_x, reach_y] = strides.map(|stride| (how.half as usize / stride * stride) as i64);
    let mut colour = Vec::with_capacity(columns * rows);
    let mut spread = Vec::with_capacity(columns * rows);
    // The samples that are not hidden, and how many are how bright.
    let along = |reach: i64, stride| 2 * reach as usize / stride + 1;
    let most_seen = along(reach_x, strides[0]) * along(reach_y, strides[1]);
    let mut samples = vec![HIDDEN; most_seen + 1];
    let mut bins = [0u16; 256];
    let (mut least, mut most) = (255usize, 0usize);
    let (w, h) = (work.width as i64, work.height as i64);
    for row in 0..rows {
        for column in 0..columns {
            let (cx, cy) = ((column * pitch) as i64, (row * pitch) as i64);
            let (x0, x1) = ((cx - reach_x).max(0), (cx + reach_x + 1).min(w));
            bins[least.min(most)..=most].fill(0);
            (least, most) = (255, 0);
            let (mut asked, mut count) = (0, 0);
            let rows_seen = (cy - reach_y).max(0)..(cy + reach_y + 1).min(h);
            for y in rows_seen.step_by(strides[1]) {
                let line = y as usize * work.width;
                let row = &pixels[line + x0 as usize..line + x1 as usize];
                for pixel in row.iter().step_by(strides[0]) {
                    // The next one takes the place of a hidden one: nothing to foresee.
                    samples[count] = *pixel;
                    count += usize::from(*pixel != HIDDEN);
                    asked += 1;
                }
            }
            let seen = &samples[..count];
            for pixel in seen {
                let luma = (pixel >> 24) as usize;
                bins[luma] += 1;
                (least, most) = (least.min(luma), most.max(luma));
            }
            if seen.len() * 4 < asked || seen.len() < 6 {
                let fallen_back = behind.and_then(|g| g.at(cx as f64, cy as f64));
                let (c, s) = fallen_back.unwrap_or(([f64::NAN; 3], 0.0));
                colour.push(c.map(|v| v as f32));
                spread.push(s as f32);
                continue;
            }
            let [q1, low, high, q3] = quantiles(&bins[least..=most], seen.len() as f32);
            let from = least as f32;
            let (low, high) = ((from + low) as u32, (from + high) as u32);
            let (mut sum, mut count) = ([0u32; 3], 0);
            for pixel in seen {
                // Masked rather than asked: which ones are of the third is not foreseen.
                let counts = u32::from((pixel >> 24).wrapping_sub(low) <= high - low);
                let pixel = pixel & counts.wrapping_neg();
                count += counts;
                sum[0] += pixel >> 16 & 255;
                sum[1] += pixel >> 8 & 255;
                sum[2] += pixel & 255;
            }
            spread.push((q3 - q1) / 2.0);
            colour.push(sum.map(|s| s as f32 / count.max(1) as f32));
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

/// First quartile, both thirds and third quartile of `n` values from their counts; between whole
/// values by share.
fn quantiles(bins: &[u16], n: f32) -> [f32; 4] {
    let wanted = [n / 4.0, n / 3.0, n * 2.0 / 3.0, n * 3.0 / 4.0];
    let mut out = [0.0; 4];
    let (mut below, mut k) = (0.0, 0);
    for (value, count) in bins.iter().enumerate() {
        let count = f32::from(*count);
        while k < 4 && below + count > wanted[k] {
            out[k] = value as f32 + (wanted[k] - below) / count;
            k += 1;
        }
        below += count;
    }
    out
}

impl Ground {
    /// Colour and spread between nodes, at a work pixel's place; `None` where all is hidden.
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
            let wu = if di == 0 { 1.0 - fu } else { fu };
            let wv = if dj == 0 { 1.0 - fv } else { fv };
            let w = wu * wv + 1e-6;
            for (sum, v) in colour.iter_mut().zip(self.colour[at]) {
                *sum += w * f64::from(v);
            }
            spread += w * f64::from(self.spread[at]);
            weight += w;
        }
        (weight > 0.0).then(|| (colour.map(|v| v / weight), spread / weight))
    }
}

/// What the grounds of a photo have in common.
impl Ground {
    /// Linear colour of the brightest tenth of the ground: unstained paper, bare metal.
    pub(crate) fn brightest(&self) -> [f64; 3] {
        let (_, bright) = self.by_brightness();
        bright
    }

    /// Direction in which fluid darkens the ground, ln of linear channels, unit length; grey
    /// when the ground is even.
    pub(crate) fn stain(&self) -> [f64; 3] {
        let (nodes, bright) = self.by_brightness();
        let mut sum = [0.0; 3];
        for node in nodes.iter().take(nodes.len() / 2) {
            for c in 0..3 {
                sum[c] += (node[c].max(1e-3) / bright[c].max(1e-3)).ln() / nodes.len() as f64;
            }
        }
        let length = sum.iter().map(|v| v * v).sum::<f64>().sqrt();
        if length < 0.03 {
            [-0.577; 3]
        } else {
            sum.map(|v| v / length)
        }
    }

    /// Linear brightness that a sixth of the ground within `reach` of a place exceeds (work
    /// pixels): what unstained ground shows there.
    pub(crate) fn bright_near(&self, [x, y]: [f64; 2], reach: f64) -> Option<f64> {
        let mut near = Vec::new();
        for (i, colour) in self
            .colour
            .iter()
            .enumerate()
            .filter(|(_, c)| !c[0].is_nan())
        {
            let (u, v) = (i % self.columns * self.pitch, i / self.columns * self.pitch);
            if (u as f64 - x).hypot(v as f64 - y) < reach {
                let [r, g, b] = colour.map(|v| crate::colour::linear_of_srgb(f64::from(v)));
                near.push(0.2126 * r + 0.7152 * g + 0.0722 * b);
            }
        }
        near.sort_by(f64::total_cmp);
        (near.len() > 20).then(|| near[near.len() * 5 / 6])
    }

    /// Nodes by rising brightness, linear, and the mean of the brightest tenth.
    fn by_brightness(&self) -> (Vec<[f64; 3]>, [f64; 3]) {
        let mut nodes: Vec<[f64; 3]> = self
            .colour
            .iter()
            .step_by(7)
            .filter(|c| !c[0].is_nan())
            .map(|c| c.map(|v| crate::colour::linear_of_srgb(f64::from(v))))
            .collect();
        nodes.sort_by(|a, b| a.iter().sum::<f64>().total_cmp(&b.iter().sum()));
        let top = &nodes[nodes.len() - nodes.len().div_ceil(10)..];
        let n = top.len().max(1) as f64;
        let bright = std::array::from_fn(|c| top.iter().map(|p| p[c]).sum::<f64>() / n);
        (nodes, bright)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_of_few_values() {
        let mut bins = [0u16; 256];
        (bins[10], bins[20]) = (4, 4);
        assert_eq!(
            quantiles(&bins, 8.0),
            [10.5, 10.0 + 2.0 / 3.0, 20.0 + 1.0 / 3.0, 20.5]
        );
        assert_eq!(quantiles(&bins[10..=20], 8.0)[0], 0.5);
    }
}
