//! The sums that a network spends its time on, over one row of pixels.
//!
//! All of it is in whole numbers that can't overflow (`layer.rs` refuses a network whose sums could), so that
//! any order of adding, with wide instructions or without, gives the same.

/// Output channels that are worked out side by side.
pub(super) const LANES: usize = 16;
/// Weights of one step: of each lane those for two inputs.
const STEP: usize = 2 * LANES;
/// Whether the two weights of a lane lie side by side, as the instruction that multiplies and adds pairs wants
/// them; elsewhere the lanes of the first input come before those of the second.
const PAIRED: bool = cfg!(target_arch = "x86_64");

/// A convolution.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Dense {
    pub(super) inputs: usize,
    pub(super) outputs: usize,
    /// Pixels a side: 1 or 3.
    pub(super) side: usize,
    /// For each [`LANES`] outputs: row, pixel, two inputs, lane.
    weights: Vec<i16>,
    /// With the half that a shift rounds by; as many as whole blocks of lanes have, like `shift`.
    bias: Vec<i32>,
    /// Bits that a sum is shifted down by.
    shift: Vec<u32>,
    /// Least and most that an output can be.
    pub(super) range: [i16; 2],
}

/// What a convolution is made of, in the order output, input, row, column.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Learned {
    pub(super) weights: Vec<i16>,
    pub(super) bias: Vec<i32>,
    pub(super) shift: Vec<u8>,
}

impl Learned {
    /// Half of what the last bit of an output is worth: sums are rounded, not cut.
    pub(super) fn half(&self, output: usize) -> i64 {
        match self.shift[output] {
            0 => 0,
            shift => 1 << (shift - 1),
        }
    }

    /// The most that the sum of an output can come to, either way, when no input is further from nothing than `most`.
    pub(super) fn most(&self, output: usize, most: i64) -> i64 {
        let each = self.weights.len() / self.bias.len();
        let weights = &self.weights[output * each..][..each];
        let sum: i64 = weights.iter().map(|w| i64::from(*w).abs()).sum();
        sum * most + i64::from(self.bias[output]).abs() + self.half(output)
    }
}

/// The part of the weights that gives [`LANES`] output channels.
struct Block<'a> {
    weights: &'a [i16],
    bias: &'a [i32; LANES],
    shift: &'a [u32; LANES],
    /// The first of them.
    channel: usize,
}

impl Dense {
    /// Of an even number of inputs, whose sums have been found not to overflow.
    pub(super) fn new(side: usize, inputs: usize, learned: &Learned, range: [i16; 2]) -> Dense {
        let outputs = learned.bias.len();
        let blocks = outputs.div_ceil(LANES);
        let mut weights = vec![0; blocks * side * side * inputs * LANES];
        for (at, w) in weights.iter_mut().enumerate() {
            let (step, within) = (at / STEP, at % STEP);
            let (lane, second) = if PAIRED {
                (within / 2, within % 2)
            } else {
                (within % LANES, within / LANES)
            };
            let (rest, input) = (step / (inputs / 2), step % (inputs / 2) * 2 + second);
            let (rest, column) = (rest / side, rest % side);
            let (block, row) = (rest / side, rest % side);
            let output = block * LANES + lane;
            if output < outputs {
                *w = learned.weights[((output * inputs + input) * side + row) * side + column];
            }
        }
        let half = |output: usize| learned.half(output) as i32;
        let mut bias: Vec<i32> = (0..outputs).map(|o| learned.bias[o] + half(o)).collect();
        bias.resize(blocks * LANES, 0);
        let mut shift: Vec<u32> = learned.shift.iter().map(|s| u32::from(*s)).collect();
        shift.resize(blocks * LANES, 0);
        Dense {
            inputs,
            outputs,
            side,
            weights,
            bias,
            shift,
            range,
        }
    }

    /// One row: `rows` are the `side` input rows, each beginning with the pixel that the first output's
    /// window begins with; `out` has `outputs` numbers a pixel.
    #[inline(always)]
    pub(super) fn row<S: Sums>(&self, sums: S, rows: &[&[i16]], out: &mut [i16]) {
        let width = out.len() / self.outputs;
        let block = self.side * self.side * self.inputs * LANES;
        let bias = self.bias.as_chunks::<LANES>().0;
        let shift = self.shift.as_chunks::<LANES>().0;
        let blocks = self.weights.chunks_exact(block).zip(bias.iter().zip(shift));
        for (b, (weights, (bias, shift))) in blocks.enumerate() {
            let block = Block {
                weights,
                bias,
                shift,
                channel: b * LANES,
            };
            let mut x = 0;
            while S::WIDE && x + 8 <= width {
                self.eight(sums, rows, x, &block, out);
                x += 8;
            }
            while x + 4 <= width {
                self.four(sums, rows, x, &block, out);
                x += 4;
            }
            while x < width {
                self.one(sums, rows, x, &block, out);
                x += 1;
            }
        }
    }

    /// Eight pixels side by side, for machines with 32 registers of 16 lanes: more sums than the additions' latency.
    #[inline(always)]
    fn eight<S: Sums>(&self, s: S, rows: &[&[i16]], x: usize, block: &Block, out: &mut [i16]) {
        let window = self.side * self.inputs;
        let [mut a, mut b, mut c, mut d, mut e, mut f, mut g, mut h] = [*block.bias; 8];
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let place = |p: usize| row[(x + p) * self.inputs..][..window].as_chunks::<2>().0;
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
                weights.as_chunks::<STEP>().0.iter().zip(values)
            {
                s.add(&mut a, w, *va);
                s.add(&mut b, w, *vb);
                s.add(&mut c, w, *vc);
                s.add(&mut d, w, *vd);
                s.add(&mut e, w, *ve);
                s.add(&mut f, w, *vf);
                s.add(&mut g, w, *vg);
                s.add(&mut h, w, *vh);
            }
        }
        for (p, sums) in [a, b, c, d, e, f, g, h].iter().enumerate() {
            self.put(sums, x + p, block, out);
        }
    }

    /// Four pixels side by side: their sums and one set of weights fill the registers. Each sum has a name of
    /// its own, so that none is kept in memory however the program is built.
    #[inline(always)]
    fn four<S: Sums>(&self, s: S, rows: &[&[i16]], x: usize, block: &Block, out: &mut [i16]) {
        let window = self.side * self.inputs;
        let [mut a, mut b, mut c, mut d] = [*block.bias; 4];
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let place = |p: usize| row[(x + p) * self.inputs..][..window].as_chunks::<2>().0;
            let left = place(0).iter().zip(place(1));
            let values = left.zip(place(2).iter().zip(place(3)));
            for (w, ((va, vb), (vc, vd))) in weights.as_chunks::<STEP>().0.iter().zip(values) {
                s.add(&mut a, w, *va);
                s.add(&mut b, w, *vb);
                s.add(&mut c, w, *vc);
                s.add(&mut d, w, *vd);
            }
        }
        for (p, sums) in [a, b, c, d].iter().enumerate() {
            self.put(sums, x + p, block, out);
        }
    }

    #[inline(always)]
    fn one<S: Sums>(&self, s: S, rows: &[&[i16]], x: usize, block: &Block, out: &mut [i16]) {
        let window = self.side * self.inputs;
        let mut sums = *block.bias;
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let values = row[x * self.inputs..][..window].as_chunks::<2>().0;
            for (w, v) in weights.as_chunks::<STEP>().0.iter().zip(values) {
                s.add(&mut sums, w, *v);
            }
        }
        self.put(&sums, x, block, out);
    }

    #[inline(always)]
    fn put(&self, sums: &[i32; LANES], x: usize, block: &Block, out: &mut [i16]) {
        let [least, most] = self.range.map(i32::from);
        let all: [i16; LANES] =
            std::array::from_fn(|l| (sums[l] >> block.shift[l]).clamp(least, most) as i16);
        let lanes = LANES.min(self.outputs - block.channel);
        let out = &mut out[x * self.outputs + block.channel..][..lanes];
        // Of a length that is known, so that it is a store and no call.
        match out.first_chunk_mut::<LANES>() {
            Some(place) => *place = all,
            None => out.copy_from_slice(&all[..lanes]),
        }
    }
}

/// The instructions that sums are made with.
pub(super) trait Sums: Copy {
    /// Whether there are registers for the sums of eight pixels.
    const WIDE: bool;

    /// Adds the products of two inputs in each lane.
    fn add(self, sums: &mut [i32; LANES], weights: &[i16; STEP], values: [i16; 2]);
}

/// Those that every machine has.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plain;

impl Sums for Plain {
    const WIDE: bool = false;

    #[inline(always)]
    fn add(self, sums: &mut [i32; LANES], weights: &[i16; STEP], values: [i16; 2]) {
        let [a, b] = values.map(i32::from);
        let of = |lane: usize| {
            let [first, second] = if PAIRED {
                [weights[2 * lane], weights[2 * lane + 1]]
            } else {
                [weights[lane], weights[LANES + lane]]
            };
            a * i32::from(first) + b * i32::from(second)
        };
        *sums = std::array::from_fn(|lane| sums[lane] + of(lane));
    }
}

#[cfg(target_arch = "x86_64")]
impl Sums for pulp::x86::V4 {
    const WIDE: bool = true;

    #[inline(always)]
    fn add(self, sums: &mut [i32; LANES], weights: &[i16; STEP], values: [i16; 2]) {
        let values = pulp::cast(self.splat_i32x16(pulp::cast(values)));
        let products = self.multiply_wrapping_add_adjacent_i16x32(values, pulp::cast(*weights));
        *sums = pulp::cast(self.wrapping_add_i32x16(pulp::cast(*sums), products));
    }
}

#[cfg(target_arch = "x86_64")]
impl Sums for pulp::x86::V3 {
    const WIDE: bool = false;

    #[inline(always)]
    fn add(self, sums: &mut [i32; LANES], weights: &[i16; STEP], values: [i16; 2]) {
        let values = pulp::cast(self.splat_i32x8(pulp::cast(values)));
        let weights: [pulp::i16x16; 2] = pulp::cast(*weights);
        let before: [pulp::i32x8; 2] = pulp::cast(*sums);
        let after: [pulp::i32x8; 2] = std::array::from_fn(|half| {
            let products = self.multiply_wrapping_add_adjacent_i16x16(values, weights[half]);
            self.wrapping_add_i32x8(before[half], products)
        });
        *sums = pulp::cast(after);
    }
}
