//! The sums that a network spends its time on, over one row of pixels.
//!
//! All of it is in whole numbers that can't overflow (`layer.rs` refuses a network whose sums could), so that
//! any order of adding, with wide instructions or without, gives the same.

use pulp::Arch;

/// Output channels that are worked out side by side.
pub(super) const LANES: usize = 16;
/// Weights of one step: of each lane those for two inputs.
const STEP: usize = 2 * LANES;
/// Whether the two weights of a lane lie side by side, as the instruction that multiplies and adds pairs wants
/// them; elsewhere the lanes of the first input come before those of the second.
const PAIRED: bool = cfg!(target_arch = "x86_64");

/// A convolution of 1 or 3 pixels a side, its weights laid out as the instructions take them.
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
        // Where the stride from pixel to pixel is known, all pixels are read by one pointer.
        match self.inputs {
            12 => self.row_of::<S, 12>(sums, rows, out),
            16 => self.row_of::<S, 16>(sums, rows, out),
            48 => self.row_of::<S, 48>(sums, rows, out),
            96 => self.row_of::<S, 96>(sums, rows, out),
            128 => self.row_of::<S, 128>(sums, rows, out),
            _ => self.row_of::<S, 0>(sums, rows, out),
        }
    }

    /// The same for a known number of inputs, or for any where that is 0.
    #[inline(always)]
    fn row_of<S: Sums, const INPUTS: usize>(&self, sums: S, rows: &[&[i16]], out: &mut [i16]) {
        let inputs = if INPUTS == 0 { self.inputs } else { INPUTS };
        let width = out.len() / self.outputs;
        let each = self.side * self.side * inputs * LANES;
        let block = |b: usize| Block {
            weights: &self.weights[b * each..][..each],
            bias: &self.bias.as_chunks().0[b],
            shift: &self.shift.as_chunks().0[b],
            channel: b * LANES,
        };
        let (mut b, blocks) = (0, self.outputs.div_ceil(LANES));
        while S::WIDE && b + 2 <= blocks {
            let two = [block(b), block(b + 1)];
            let mut x = 0;
            while x + 8 <= width {
                self.pixels_of_two::<S, INPUTS, 8>(sums, rows, x, &two, out);
                x += 8;
            }
            while x < width {
                self.pixels_of_two::<S, INPUTS, 1>(sums, rows, x, &two, out);
                x += 1;
            }
            b += 2;
        }
        while b < blocks {
            let one = block(b);
            let mut x = 0;
            while S::WIDE && x + 8 <= width {
                self.pixels::<S, INPUTS, 8>(sums, rows, x, &one, out);
                x += 8;
            }
            while x + 4 <= width {
                self.pixels::<S, INPUTS, 4>(sums, rows, x, &one, out);
                x += 4;
            }
            while x < width {
                self.pixels::<S, INPUTS, 1>(sums, rows, x, &one, out);
                x += 1;
            }
            b += 1;
        }
    }

    /// Some pixels side by side.
    #[inline(always)]
    fn pixels<S: Sums, const INPUTS: usize, const PIXELS: usize>(
        &self,
        s: S,
        rows: &[&[i16]],
        x: usize,
        block: &Block,
        out: &mut [i16],
    ) {
        let inputs = if INPUTS == 0 { self.inputs } else { INPUTS };
        let window = self.side * inputs;
        let mut all = [*block.bias; PIXELS];
        for (row, weights) in rows.iter().zip(block.weights.chunks_exact(window * LANES)) {
            let seen = &row[x * inputs..][..(PIXELS - 1) * inputs + window];
            let steps = weights.as_chunks::<STEP>().0.iter();
            // Two inputs of each pixel, the one at a known distance from the other.
            let two = seen
                .as_chunks::<2>()
                .0
                .windows((PIXELS - 1) * inputs / 2 + 1);
            for (weights, two) in steps.zip(two) {
                for (p, sums) in all.iter_mut().enumerate() {
                    s.add(sums, weights, two[p * (inputs / 2)]);
                }
            }
        }
        for (p, sums) in all.iter().enumerate() {
            self.put(s, sums, x + p, block, out);
        }
    }

    /// The same of two blocks, so that what was read of the inputs serves both. Their sums have names of their own:
    /// in an array of arrays they would lie in memory.
    #[inline(always)]
    fn pixels_of_two<S: Sums, const INPUTS: usize, const PIXELS: usize>(
        &self,
        s: S,
        rows: &[&[i16]],
        x: usize,
        [first, second]: &[Block; 2],
        out: &mut [i16],
    ) {
        let inputs = if INPUTS == 0 { self.inputs } else { INPUTS };
        let window = self.side * inputs;
        let (mut a, mut b) = ([*first.bias; PIXELS], [*second.bias; PIXELS]);
        let va = first.weights.chunks_exact(window * LANES);
        let vb = second.weights.chunks_exact(window * LANES);
        for (row, (va, vb)) in rows.iter().zip(va.zip(vb)) {
            let seen = &row[x * inputs..][..(PIXELS - 1) * inputs + window];
            let steps = va
                .as_chunks::<STEP>()
                .0
                .iter()
                .zip(vb.as_chunks::<STEP>().0);
            let two = seen
                .as_chunks::<2>()
                .0
                .windows((PIXELS - 1) * inputs / 2 + 1);
            for ((va, vb), two) in steps.zip(two) {
                for (p, (a, b)) in a.iter_mut().zip(&mut b).enumerate() {
                    let values = two[p * (inputs / 2)];
                    s.add(a, va, values);
                    s.add(b, vb, values);
                }
            }
        }
        for (p, (a, b)) in a.iter().zip(&b).enumerate() {
            self.put(s, a, x + p, first, out);
            self.put(s, b, x + p, second, out);
        }
    }

    /// Writes the lanes of a pixel.
    #[inline(always)]
    fn put<S: Sums>(&self, s: S, sums: &[i32; LANES], x: usize, block: &Block, out: &mut [i16]) {
        let all = s.outputs(sums, block.shift, self.range);
        let lanes = LANES.min(self.outputs - block.channel);
        let out = &mut out[x * self.outputs + block.channel..];
        // A store of a known length is one instruction, of another it is a call. Where one block is all, what it
        // writes too much belongs to the next pixel, which is written after it.
        let whole = lanes == LANES || self.outputs < LANES;
        match out.first_chunk_mut::<LANES>() {
            Some(place) if whole => *place = all,
            _ => out[..lanes].copy_from_slice(&all[..lanes]),
        }
    }
}

/// The instructions that sums are made with.
pub(super) trait Sums: Copy {
    /// Whether there are registers for the sums of eight pixels.
    const WIDE: bool;

    /// Adds the products of two inputs in each lane.
    fn add(self, sums: &mut [i32; LANES], weights: &[i16; STEP], values: [i16; 2]);

    /// Shifts each sum down by its lane's bits and cuts it to a range.
    fn outputs(self, sums: &[i32; LANES], shift: &[u32; LANES], range: [i16; 2]) -> [i16; LANES];
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

    #[inline(always)]
    fn outputs(self, sums: &[i32; LANES], shift: &[u32; LANES], range: [i16; 2]) -> [i16; LANES] {
        let [least, most] = range.map(i32::from);
        std::array::from_fn(|lane| (sums[lane] >> shift[lane]).clamp(least, most) as i16)
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

    #[inline(always)]
    fn outputs(self, sums: &[i32; LANES], shift: &[u32; LANES], range: [i16; 2]) -> [i16; LANES] {
        let f = self.avx512f;
        let [least, most] = range.map(|v| f._mm512_set1_epi32(i32::from(v)));
        let shifted = f._mm512_srav_epi32(pulp::cast(*sums), pulp::cast(*shift));
        let cut = f._mm512_min_epi32(f._mm512_max_epi32(shifted, least), most);
        pulp::cast(f._mm512_cvtepi32_epi16(cut))
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

    #[inline(always)]
    fn outputs(self, sums: &[i32; LANES], shift: &[u32; LANES], range: [i16; 2]) -> [i16; LANES] {
        let (avx, avx2) = (self.avx, self.avx2);
        let [least, most] = range.map(|v| avx._mm256_set1_epi32(i32::from(v)));
        let sums: [std::arch::x86_64::__m256i; 2] = pulp::cast(*sums);
        let shift: [std::arch::x86_64::__m256i; 2] = pulp::cast(*shift);
        let [low, high] = std::array::from_fn(|half| {
            let shifted = avx2._mm256_srav_epi32(sums[half], shift[half]);
            avx2._mm256_min_epi32(avx2._mm256_max_epi32(shifted, least), most)
        });
        // Packing goes by halves of a register: the middle quarters come out in each other's place.
        let packed = avx2._mm256_packs_epi32(low, high);
        pulp::cast(avx2._mm256_permute4x64_epi64::<0b11_01_10_00>(packed))
    }
}

#[cfg(target_arch = "x86_64")]
pulp::simd_type! {
    /// The machines that multiply pairs and add them to a sum in one instruction: of the two that V4's sums ask
    /// for the compiler makes one.
    pub(super) struct Fused {
        sse: "sse",
        avx2: "avx2",
        fma: "fma",
        avx512f: "avx512f",
        avx512bw: "avx512bw",
        avx512cd: "avx512cd",
        avx512dq: "avx512dq",
        avx512vl: "avx512vl",
        avx512vnni: "avx512vnni",
    }
}

/// What a network is run with.
#[derive(Debug, Clone, Copy)]
pub(super) enum Instructions {
    #[cfg(target_arch = "x86_64")]
    Fused(Fused, pulp::x86::V4),
    Of(Arch),
}

impl Instructions {
    /// The widest that this machine has.
    pub(super) fn best() -> Instructions {
        match Arch::new() {
            #[cfg(target_arch = "x86_64")]
            Arch::V4(v4) => match Fused::try_new() {
                Some(fused) => Instructions::Fused(fused, v4),
                None => Instructions::Of(Arch::V4(v4)),
            },
            other => Instructions::Of(other),
        }
    }
}
