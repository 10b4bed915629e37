//! The sums that a network spends its time on, over one row of pixels.
//!
//! Each sum is taken in one order, whatever the machine: lanes are output channels, products are added
//! one after the other and never fused, so that wide instructions give the same bits as none.

/// Output channels that are worked out side by side.
pub(super) const LANES: usize = 16;

/// A convolution's weights, for each [`LANES`] output channels: row, pixel, input channel, lane.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dense {
    pub(super) inputs: usize,
    pub(super) outputs: usize,
    /// Pixels a side: 1 or 3.
    pub(super) side: usize,
    pub(super) weights: Vec<f32>,
    /// As many as whole blocks of lanes have.
    pub(super) bias: Vec<f32>,
    pub(super) relu: bool,
}

/// The part of the weights that gives [`LANES`] output channels.
struct Block<'a> {
    weights: &'a [f32],
    bias: &'a [f32; LANES],
    /// The first of them.
    channel: usize,
}

impl Dense {
    /// From weights in the order output, input, row, column.
    pub(super) fn new(
        side: usize,
        inputs: usize,
        by_output: &[f32],
        bias: &[f32],
        relu: bool,
    ) -> Dense {
        let outputs = bias.len();
        let blocks = outputs.div_ceil(LANES);
        let mut weights = vec![0.0; blocks * side * side * inputs * LANES];
        for (at, w) in weights.iter_mut().enumerate() {
            let (rest, lane) = (at / LANES, at % LANES);
            let (rest, input) = (rest / inputs, rest % inputs);
            let (rest, column) = (rest / side, rest % side);
            let (block, row) = (rest / side, rest % side);
            let output = block * LANES + lane;
            if output < outputs {
                *w = by_output[((output * inputs + input) * side + row) * side + column];
            }
        }
        let mut padded = bias.to_vec();
        padded.resize(blocks * LANES, 0.0);
        Dense {
            inputs,
            outputs,
            side,
            weights,
            bias: padded,
            relu,
        }
    }

    /// One row: `rows` are the `side` input rows, each beginning with the pixel that the first output's
    /// window begins with; `out` has `outputs` numbers a pixel. `wide`: the machine has registers for the sums of
    /// eight pixels; each pixel's sum is the same bits either way.
    #[inline(always)]
    pub(super) fn row(&self, rows: &[&[f32]], wide: bool, out: &mut [f32]) {
        let width = out.len() / self.outputs;
        let block = self.side * self.side * self.inputs * LANES;
        let bias = self.bias.as_chunks::<LANES>().0;
        for (b, (weights, bias)) in self.weights.chunks_exact(block).zip(bias).enumerate() {
            let block = Block {
                weights,
                bias,
                channel: b * LANES,
            };
            let mut x = 0;
            while wide && x + 8 <= width {
                self.eight(rows, x, &block, out);
                x += 8;
            }
            while x + 4 <= width {
                self.four(rows, x, &block, out);
                x += 4;
            }
            while x < width {
                self.one(rows, x, &block, out);
                x += 1;
            }
        }
    }

    /// Eight pixels side by side, for machines with 32 registers of 16 lanes: more sums than the additions' latency.
    #[inline(always)]
    fn eight(&self, rows: &[&[f32]], x: usize, block: &Block, out: &mut [f32]) {
        let window = self.side * self.inputs;
        let [mut a, mut b, mut c, mut d, mut e, mut f, mut g, mut h] = [*block.bias; 8];
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let place = |p: usize| &row[(x + p) * self.inputs..][..window];
            let first = place(0)
                .iter()
                .zip(place(1))
                .zip(place(2).iter().zip(place(3)));
            let last = place(4)
                .iter()
                .zip(place(5))
                .zip(place(6).iter().zip(place(7)));
            let values = first.zip(last);
            for (w, (((va, vb), (vc, vd)), ((ve, vf), (vg, vh)))) in
                weights.as_chunks::<LANES>().0.iter().zip(values)
            {
                add(&mut a, w, *va);
                add(&mut b, w, *vb);
                add(&mut c, w, *vc);
                add(&mut d, w, *vd);
                add(&mut e, w, *ve);
                add(&mut f, w, *vf);
                add(&mut g, w, *vg);
                add(&mut h, w, *vh);
            }
        }
        for (p, sums) in [a, b, c, d, e, f, g, h].iter_mut().enumerate() {
            self.put(sums, x + p, block.channel, out);
        }
    }

    /// Four pixels side by side: their sums and one set of weights fill the registers. Each sum has a name of
    /// its own, so that none is kept in memory however the program is built.
    #[inline(always)]
    fn four(&self, rows: &[&[f32]], x: usize, block: &Block, out: &mut [f32]) {
        let window = self.side * self.inputs;
        let [mut a, mut b, mut c, mut d] = [*block.bias; 4];
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let place = |p: usize| &row[(x + p) * self.inputs..][..window];
            let left = place(0).iter().zip(place(1));
            let values = left.zip(place(2).iter().zip(place(3)));
            for (w, ((va, vb), (vc, vd))) in weights.as_chunks::<LANES>().0.iter().zip(values) {
                add(&mut a, w, *va);
                add(&mut b, w, *vb);
                add(&mut c, w, *vc);
                add(&mut d, w, *vd);
            }
        }
        for (p, sums) in [a, b, c, d].iter_mut().enumerate() {
            self.put(sums, x + p, block.channel, out);
        }
    }

    #[inline(always)]
    fn one(&self, rows: &[&[f32]], x: usize, block: &Block, out: &mut [f32]) {
        let window = self.side * self.inputs;
        let mut sums = *block.bias;
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let values = &row[x * self.inputs..][..window];
            for (w, v) in weights.as_chunks::<LANES>().0.iter().zip(values) {
                add(&mut sums, w, *v);
            }
        }
        self.put(&mut sums, x, block.channel, out);
    }

    #[inline(always)]
    fn put(&self, sums: &mut [f32; LANES], x: usize, channel: usize, out: &mut [f32]) {
        let lanes = LANES.min(self.outputs - channel);
        if self.relu {
            clip(sums);
        }
        let out = &mut out[x * self.outputs + channel..][..lanes];
        // Of a length that is known, so that it is a store and no call.
        match out.first_chunk_mut::<LANES>() {
            Some(all) => *all = *sums,
            None => out.copy_from_slice(&sums[..lanes]),
        }
    }
}

/// Adds a product in each lane.
#[inline(always)]
fn add(sums: &mut [f32; LANES], weights: &[f32; LANES], v: f32) {
    *sums = std::array::from_fn(|l| sums[l] + v * weights[l]);
}

/// A 3 x 3 convolution of each channel by itself; weights by row, column, channel.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Depthwise {
    pub(super) weights: Vec<f32>,
    pub(super) bias: Vec<f32>,
    pub(super) relu: bool,
}

impl Depthwise {
    /// From weights in the order channel, row, column.
    pub(super) fn new(by_channel: &[f32], bias: &[f32], relu: bool) -> Depthwise {
        let n = bias.len();
        Depthwise {
            weights: (0..9 * n)
                .map(|at| by_channel[at % n * 9 + at / n])
                .collect(),
            bias: bias.to_vec(),
            relu,
        }
    }

    /// One row, as [`Dense::row`].
    #[inline(always)]
    pub(super) fn row(&self, rows: &[&[f32]], out: &mut [f32]) {
        let n = self.bias.len();
        let whole = n / LANES * LANES;
        for (x, out) in out.chunks_exact_mut(n).enumerate() {
            for c in (0..whole).step_by(LANES) {
                self.lanes::<LANES>(rows, x * n + c, c, &mut out[c..c + LANES]);
            }
            for c in whole..n {
                self.lanes::<1>(rows, x * n + c, c, &mut out[c..=c]);
            }
        }
    }

    #[inline(always)]
    fn lanes<const L: usize>(&self, rows: &[&[f32]], at: usize, channel: usize, out: &mut [f32]) {
        let n = self.bias.len();
        let mut sums = [0f32; L];
        sums.copy_from_slice(&self.bias[channel..channel + L]);
        for (row, weights) in rows.iter().zip(self.weights.chunks_exact(3 * n)) {
            for column in 0..3 {
                let v = &row[at + column * n..][..L];
                let w = &weights[column * n + channel..][..L];
                for l in 0..L {
                    sums[l] += v[l] * w[l];
                }
            }
        }
        if self.relu {
            clip(&mut sums);
        }
        out.copy_from_slice(&sums);
    }
}

/// Takes what is below nothing for nothing; the sign of zero too is the same on every machine.
#[inline(always)]
pub(super) fn clip(values: &mut [f32]) {
    for v in values {
        *v = if *v > 0.0 { *v } else { 0.0 };
    }
}
