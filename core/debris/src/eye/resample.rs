//! The picture at the scale that a network was learned at: area averages, row by row.

use pulp::{Arch, NullaryFnOnce};

use crate::net::MOST;
use crate::picture::Upright;

/// A picture reduced by any ratio, on sides that are multiples of a number: what lies beyond the picture
/// repeats its last column and row.
pub(super) struct Reduced<'a> {
    picture: &'a Upright,
    /// Pixels of the picture a side of one of these.
    pub(super) ratio: f64,
    /// Columns and rows that the picture fills.
    pub(super) size: [usize; 2],
    /// Columns and rows with what is added.
    pub(super) padded: [usize; 2],
    /// Colour to what goes into the network: times `gain`, at most 1, less `mean`, in units.
    tone: [Tone; 3],
    /// For each reduced column the picture's first that it covers, and how many.
    columns: Vec<[u32; 2]>,
    /// Of each of these the share that it covers, one column after the other.
    shares: Vec<f32>,
    /// Width of each reduced column, three times: once a channel.
    widths: Vec<f32>,
    /// Sums down a row's pixels; then across them.
    down: Vec<f32>,
    across: Vec<f32>,
    arch: Arch,
}

/// How one channel goes in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tone {
    pub(super) gain: f32,
    pub(super) mean: f32,
    /// What one is worth.
    pub(super) unit: f32,
}

impl Tone {
    /// What goes in for a value of 255, to the nearest whole number.
    #[inline(always)]
    pub(super) fn of(&self, value: f32) -> i16 {
        let v = value * (self.gain / 255.0);
        let whole = ((if v < 1.0 { v } else { 1.0 }) - self.mean) / self.unit;
        // Cut above nothing, where cutting is rounding down.
        let most = f32::from(MOST);
        (whole.clamp(-most, most) + most + 0.5) as i16 - MOST
    }
}

impl<'a> Reduced<'a> {
    pub(super) fn new(
        picture: &'a Upright,
        ratio: f64,
        multiple: usize,
        tone: [Tone; 3],
    ) -> Reduced<'a> {
        let size =
            [picture.width, picture.height].map(|v| ((v as f64 / ratio).ceil() as usize).max(1));
        let (mut columns, mut shares, mut widths) = (Vec::new(), Vec::new(), Vec::new());
        for x in 0..size[0] {
            let (from, to) = span(x, ratio, picture.width);
            let covered = from as usize..(to.ceil() as usize).min(picture.width);
            columns.push([covered.start as u32, covered.len() as u32]);
            shares.extend(covered.map(|at| share(at, from, to)));
            widths.extend([(to - from) as f32; 3]);
        }
        Reduced {
            picture,
            ratio,
            size,
            padded: size.map(|v| v.next_multiple_of(multiple)),
            tone,
            columns,
            shares,
            across: vec![0.0; widths.len()],
            widths,
            down: vec![0.0; 3 * picture.width],
            arch: Arch::new(),
        }
    }

    /// Fills row `y` of the padded picture, three numbers a pixel.
    pub(super) fn row(&mut self, y: usize, out: &mut [i16]) {
        let (from, to) = span(y.min(self.size[1] - 1), self.ratio, self.picture.height);
        self.down.fill(0.0);
        for row in from as usize..(to.ceil() as usize).min(self.picture.height) {
            let line = &self.picture.rgb[3 * row * self.picture.width..][..self.down.len()];
            self.arch.dispatch(Adding {
                sums: &mut self.down,
                line,
                share: share(row, from, to),
            });
        }
        let mut shares = self.shares.as_slice();
        let places = self.across.as_chunks_mut::<3>().0;
        for (sum, [first, n]) in places.iter_mut().zip(&self.columns) {
            *sum = [0.0; 3];
            let (these, rest) = shares.split_at(*n as usize);
            let covered = self.down[3 * *first as usize..].as_chunks::<3>().0;
            for (share, v) in these.iter().zip(covered) {
                for (sum, v) in sum.iter_mut().zip(v) {
                    *sum += share * v;
                }
            }
            shares = rest;
        }
        let (filled, beyond) = out.split_at_mut(3 * self.size[0]);
        self.arch.dispatch(Toning {
            sums: &self.across,
            widths: &self.widths,
            height: (to - from) as f32,
            tone: &self.tone,
            out: filled,
        });
        if let Some(last) = filled.last_chunk::<3>() {
            for pixel in beyond.chunks_exact_mut(3) {
                pixel.copy_from_slice(last);
            }
        }
    }
}

/// How much of the picture's column or row lies between two places.
fn share(at: usize, from: f64, to: f64) -> f32 {
    (to.min(at as f64 + 1.0) - from.max(at as f64)) as f32
}

/// From where to where a reduced pixel reaches, within `side` pixels.
fn span(at: usize, ratio: f64, side: usize) -> (f64, f64) {
    let to = ((at + 1) as f64 * ratio).min(side as f64);
    // Where the last one is hardly there, it is the last pixel's.
    let from = (at as f64 * ratio).min(to - f64::min(1.0, ratio) * 1e-3);
    (from.max(0.0), to)
}

/// Adds a share of a line of bytes.
struct Adding<'a> {
    sums: &'a mut [f32],
    line: &'a [u8],
    share: f32,
}

impl NullaryFnOnce for Adding<'_> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        for (sum, v) in self.sums.iter_mut().zip(self.line) {
            *sum += self.share * f32::from(*v);
        }
    }
}

/// Turns sums over areas into what goes into the network.
struct Toning<'a> {
    sums: &'a [f32],
    widths: &'a [f32],
    height: f32,
    tone: &'a [Tone; 3],
    out: &'a mut [i16],
}

/// Numbers that are toned side by side: whole pixels, and whole registers.
const SIDE_BY_SIDE: usize = 48;

impl NullaryFnOnce for Toning<'_> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let tone: [Tone; SIDE_BY_SIDE] = std::array::from_fn(|k| self.tone[k % 3]);
        let rows = self
            .sums
            .chunks(SIDE_BY_SIDE)
            .zip(self.widths.chunks(SIDE_BY_SIDE));
        for (out, (sums, widths)) in self.out.chunks_mut(SIDE_BY_SIDE).zip(rows) {
            for (((out, sum), width), tone) in out.iter_mut().zip(sums).zip(widths).zip(&tone) {
                *out = tone.of(sum / (self.height * width));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tenths of a byte's steps.
    const TENTHS: f32 = 2550.0;
    const PLAIN: Tone = Tone {
        gain: 1.0,
        mean: 0.0,
        unit: 1.0 / TENTHS,
    };

    /// Over all pixels the weighted mean stays, whatever the ratio; by whole numbers it is the plain mean.
    #[test]
    fn averages_of_areas() {
        let (width, height) = (23, 17);
        let rgb: Vec<u8> = (0..3 * width * height)
            .map(|i| (i * i % 251) as u8)
            .collect();
        let picture = Upright {
            width,
            height,
            rgb,
            lens: None,
        };
        for ratio in [0.7, 1.0, 2.0, 2.625, 3.3] {
            let mut reduced = Reduced::new(&picture, ratio, 16, [PLAIN; 3]);
            let [w, h] = reduced.padded;
            let mut row = vec![0; 3 * w];
            let (mut sum, mut area) = (0.0, 0.0);
            for y in 0..reduced.size[1] {
                reduced.row(y, &mut row);
                for x in 0..reduced.size[0] {
                    let side = |at, n| {
                        let (a, b) = span(at, ratio, n);
                        b - a
                    };
                    let share = side(x, width) * side(y, height);
                    sum += share * f64::from(row[3 * x + 1]) / 10.0;
                    area += share;
                    if ratio == 2.0 && x < width / 2 && y < height / 2 {
                        let at = |i: usize, j: usize| {
                            f32::from(picture.rgb[3 * ((2 * y + j) * width + 2 * x + i) + 1])
                        };
                        let mean = (at(0, 0) + at(1, 0) + at(0, 1) + at(1, 1)) / 4.0;
                        assert!((f32::from(row[3 * x + 1]) / 10.0 - mean).abs() < 0.051);
                    }
                }
                assert_eq!(row[3 * w - 2], row[3 * reduced.size[0] - 2]);
            }
            let all = picture
                .rgb
                .chunks_exact(3)
                .map(|p| f64::from(p[1]))
                .sum::<f64>();
            assert!(
                (area - (width * height) as f64).abs() < 1.0,
                "{ratio} {area}"
            );
            assert!(
                (sum / area - all / (width * height) as f64).abs() < 0.05,
                "{ratio}"
            );
            let mut below = vec![0; 3 * w];
            reduced.row(h - 1, &mut below);
            assert_eq!(row, below);
        }
    }
}
