//! Runs a network row by row: of each layer only the rows are kept that a later one still asks for, so
//! that a picture of any size takes little memory and nothing is worked out twice.

use std::collections::VecDeque;

#[cfg(target_arch = "x86_64")]
use pulp::Arch;
use pulp::NullaryFnOnce;

use super::kernel::{Dense, Instructions, Plain, Sums};
use super::layer::{Layer, Network, Op};

/// A layer's rows, as far as they are kept. Each has a pixel of zeros at both ends.
struct Plane {
    width: usize,
    height: usize,
    channels: usize,
    /// Row that the first kept one is.
    first: usize,
    rows: VecDeque<Vec<i16>>,
    /// Rows that are no longer needed, to be written over.
    spare: Vec<Vec<i16>>,
}

impl Plane {
    fn next(&self) -> usize {
        self.first + self.rows.len()
    }

    /// A kept row without its ends.
    fn row(&self, y: usize) -> &[i16] {
        let row = &self.rows[y - self.first];
        &row[self.channels..row.len() - self.channels]
    }

    fn drop_before(&mut self, y: usize) {
        while self.first < y && !self.rows.is_empty() {
            self.spare.extend(self.rows.pop_front());
            self.first += 1;
        }
    }
}

/// A running network.
struct Run<'a, I> {
    layers: &'a [Layer],
    planes: Vec<Plane>,
    /// For each layer the rows that its user, outside, has seen; of all when nobody looks.
    seen: Vec<usize>,
    /// The layers that stand on each.
    above: Vec<Vec<usize>>,
    /// Zeros as long as the longest row.
    nothing: Vec<i16>,
    input: I,
    instructions: Instructions,
}

impl Network {
    /// Runs over an input of `width` x `height` pixels, both multiples of [`Network::multiple`]: `input`
    /// fills a row, and `told` gets each row of the named layers, top to bottom, by the name's index.
    pub(crate) fn run(
        &self,
        [width, height]: [usize; 2],
        names: &[&str],
        input: impl FnMut(usize, &mut [i16]),
        told: impl FnMut(usize, usize, &[i16]),
    ) {
        self.run_with(Instructions::best(), [width, height], names, input, told);
    }

    /// The same with instructions of one's own choice.
    pub(super) fn run_with(
        &self,
        instructions: Instructions,
        [width, height]: [usize; 2],
        names: &[&str],
        input: impl FnMut(usize, &mut [i16]),
        mut told: impl FnMut(usize, usize, &[i16]),
    ) {
        let wanted: Vec<usize> = names.iter().filter_map(|n| self.index(n)).collect();
        let plane = |l: &Layer| Plane {
            width: width >> l.halved,
            height: height >> l.halved,
            channels: l.channels,
            first: 0,
            rows: VecDeque::new(),
            spare: Vec::new(),
        };
        let planes: Vec<Plane> = self.layers.iter().map(plane).collect();
        let mut above = vec![Vec::new(); planes.len()];
        for (k, layer) in self.layers.iter().enumerate() {
            layer.from.iter().for_each(|from| above[*from].push(k));
        }
        let longest = planes.iter().map(|p| (p.width + 2) * p.channels).max();
        let mut seen = vec![usize::MAX; planes.len()];
        wanted.iter().for_each(|k| seen[*k] = 0);
        let mut run = Run {
            layers: &self.layers,
            planes,
            seen,
            above,
            nothing: vec![0; longest.unwrap_or(0)],
            input,
            instructions,
        };
        // The one that lags most goes on, so that few rows are kept.
        let lag = |run: &Run<_>, k: usize| run.seen[k] as f64 / run.planes[k].height as f64;
        let open = |run: &Run<_>, k: usize| run.seen[k] < run.planes[k].height;
        while let Some(n) = (0..wanted.len())
            .filter(|n| open(&run, wanted[*n]))
            .min_by(|a, b| lag(&run, wanted[*a]).total_cmp(&lag(&run, wanted[*b])))
        {
            let (k, y) = (wanted[n], run.seen[wanted[n]]);
            run.make(k, y);
            // A layer may be named more than once.
            for n in (0..wanted.len()).filter(|n| wanted[*n] == k) {
                told(n, y, run.planes[k].row(y));
            }
            run.seen[k] = y + 1;
            run.tidy(k);
        }
    }
}

impl<I: FnMut(usize, &mut [i16])> Run<'_, I> {
    /// Makes the rows of a layer up to `y`.
    fn make(&mut self, k: usize, y: usize) {
        while self.planes[k].next() <= y {
            let row = self.planes[k].next();
            let layer = &self.layers[k];
            for from in &layer.from {
                let last = self.planes[*from].height - 1;
                self.make(*from, last_asked(&layer.op, row).min(last));
            }
            let mut made = self.planes[k].spare.pop().unwrap_or_else(|| {
                let plane = &self.planes[k];
                vec![0; (plane.width + 2) * plane.channels]
            });
            let ends = self.planes[k].channels;
            let length = made.len();
            let out = &mut made[ends..length - ends];
            if layer.op == Op::Input {
                (self.input)(row, out);
            } else {
                let of = Row {
                    layer,
                    planes: &self.planes,
                    nothing: &self.nothing,
                    y: row,
                    sums: Plain,
                    out,
                };
                of.made(self.instructions);
            }
            self.planes[k].rows.push_back(made);
            for from in &layer.from {
                self.tidy(*from);
            }
        }
    }

    /// Lets go of the rows of a layer that nobody asks for any more.
    fn tidy(&mut self, k: usize) {
        let asked = self.above[k].iter().map(|above| {
            let next = self.planes[*above].next();
            if next == self.planes[*above].height {
                usize::MAX
            } else {
                first_asked(&self.layers[*above].op, next)
            }
        });
        let least = asked.chain([self.seen[k]]).min().unwrap_or(usize::MAX);
        let upto = least.min(self.planes[k].next());
        self.planes[k].drop_before(upto);
    }
}

/// The first row that row `y` of a layer asks for.
fn first_asked(op: &Op, y: usize) -> usize {
    match op {
        Op::Dense(Dense { side: 3, .. }) => y.saturating_sub(1),
        Op::SpaceToDepth | Op::MaxPool => 2 * y,
        Op::UpsampleNearest | Op::PixelShuffle => y / 2,
        _ => y,
    }
}

/// The last one; it may lie beyond the last that there is.
fn last_asked(op: &Op, y: usize) -> usize {
    match op {
        Op::Dense(Dense { side: 3, .. }) => y + 1,
        Op::SpaceToDepth | Op::MaxPool => 2 * y + 1,
        Op::UpsampleNearest | Op::PixelShuffle => y / 2,
        _ => y,
    }
}

/// One row to be made.
struct Row<'a, S> {
    layer: &'a Layer,
    planes: &'a [Plane],
    nothing: &'a [i16],
    y: usize,
    sums: S,
    out: &'a mut [i16],
}

impl<'a> Row<'a, Plain> {
    /// Makes it with some instructions.
    fn made(self, instructions: Instructions) {
        match instructions {
            #[cfg(target_arch = "x86_64")]
            Instructions::Fused(fused, v4) => fused.vectorize(self.with(v4)),
            #[cfg(target_arch = "x86_64")]
            Instructions::Of(Arch::V4(v4)) => v4.vectorize(self.with(v4)),
            #[cfg(target_arch = "x86_64")]
            Instructions::Of(Arch::V3(v3)) => v3.vectorize(self.with(v3)),
            Instructions::Of(arch) => arch.dispatch(self),
        }
    }

    #[cfg(target_arch = "x86_64")]
    fn with<S: Sums>(self, sums: S) -> Row<'a, S> {
        let Row {
            layer,
            planes,
            nothing,
            y,
            out,
            ..
        } = self;
        Row {
            layer,
            planes,
            nothing,
            y,
            sums,
            out,
        }
    }
}

impl<S: Sums> NullaryFnOnce for Row<'_, S> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let Row {
            layer,
            planes,
            nothing,
            y,
            sums,
            out,
        } = self;
        let from = &planes[layer.from[0]];
        let n = from.channels;
        let pair = |y: usize| [from.row(2 * y), from.row(2 * y + 1)];
        match &layer.op {
            Op::Dense(dense) if dense.side == 1 => dense.row(sums, &[from.row(y)], out),
            Op::Dense(dense) => dense.row(sums, &around(from, nothing, y), out),
            Op::SpaceToDepth => {
                let [above, below] = pair(y).map(|row| row.chunks_exact(2 * n));
                for (out, (above, below)) in out.chunks_exact_mut(4 * n).zip(above.zip(below)) {
                    let (out, _) = out.as_chunks_mut::<4>();
                    for (channel, out) in out.iter_mut().enumerate() {
                        let of = |two: &[i16]| [two[channel], two[n + channel]];
                        let ([a, b], [c, d]) = (of(above), of(below));
                        *out = [a, b, c, d];
                    }
                }
            }
            Op::PixelShuffle => {
                let (row, dy) = (from.row(y / 2), y % 2);
                for (two, pixel) in out.chunks_exact_mut(n / 2).zip(row.chunks_exact(n)) {
                    let (left, right) = two.split_at_mut(n / 4);
                    let squares = pixel.as_chunks::<4>().0;
                    for ((left, right), square) in left.iter_mut().zip(right).zip(squares) {
                        (*left, *right) = (square[2 * dy], square[2 * dy + 1]);
                    }
                }
            }
            Op::MaxPool => pooled(pair(y), n, out),
            Op::UpsampleNearest => {
                let row = from.row(y / 2).chunks_exact(n);
                for (two, pixel) in out.chunks_exact_mut(2 * n).zip(row) {
                    let (left, right) = two.split_at_mut(n);
                    // By itself: a call for each pixel's copy costs more than the copy.
                    for ((left, right), v) in left.iter_mut().zip(right).zip(pixel) {
                        (*left, *right) = (*v, *v);
                    }
                }
            }
            Op::Add => {
                out.copy_from_slice(from.row(y));
                for k in &layer.from[1..] {
                    for (out, v) in out.iter_mut().zip(planes[*k].row(y)) {
                        *out += v;
                    }
                }
            }
            Op::Input => {}
        }
    }
}

/// The rows around one, with their ends; zeros beyond the first and the last.
#[inline(always)]
fn around<'a>(plane: &'a Plane, nothing: &'a [i16], y: usize) -> [&'a [i16]; 3] {
    let kept = |y: usize| plane.rows[y - plane.first].as_slice();
    [
        if y == 0 { nothing } else { kept(y - 1) },
        kept(y),
        if y + 1 == plane.height {
            nothing
        } else {
            kept(y + 1)
        },
    ]
}

/// The most of each square of four pixels.
#[inline(always)]
fn pooled([above, below]: [&[i16]; 2], n: usize, out: &mut [i16]) {
    let squares = above.chunks_exact(2 * n).zip(below.chunks_exact(2 * n));
    for (out, (a, c)) in out.chunks_exact_mut(n).zip(squares) {
        let ((a, b), (c, d)) = (a.split_at(n), c.split_at(n));
        for k in 0..n {
            out[k] = a[k].max(b[k]).max(c[k].max(d[k]));
        }
    }
}
