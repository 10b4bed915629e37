//! A layer over planes that lie pixel by pixel, so that its sums run over neighbours in memory.

/// Numbers of `depth` planes, those of a pixel beside one another, row by row.
#[derive(Debug, Clone)]
pub(crate) struct Planes {
    pub(crate) width: usize,
    pub(crate) height: usize,
    pub(crate) depth: usize,
    pub(crate) values: Vec<f32>,
}

impl Planes {
    pub(crate) fn of(width: usize, height: usize, values: Vec<f32>) -> Planes {
        Planes {
            width,
            height,
            depth: 1,
            values,
        }
    }

    /// The numbers of a pixel.
    pub(crate) fn pixel(&self, x: usize, y: usize) -> &[f32] {
        let at = (y * self.width + x) * self.depth;
        self.values.get(at..at + self.depth).unwrap_or(&[])
    }
}

/// Output planes that are summed together, and pixels beside one another.
const TOGETHER: usize = 8;
const BESIDE: usize = 4;

/// A convolution; beyond the border lies nothing.
#[derive(Debug, Clone)]
pub(crate) struct Layer {
    come: usize,
    go: usize,
    size: (usize, usize),
    stride: (usize, usize),
    dilation: usize,
    /// No room is made above and below.
    valid: bool,
    rectified: bool,
    bias: Vec<f32>,
    /// By eight outputs: by place in the kernel, by input, the eight weights.
    blocks: Vec<Vec<[f32; TOGETHER]>>,
}

impl Layer {
    #[allow(clippy::too_many_arguments)] // the fields of a file's layer, in its order
    pub(super) fn new(
        come: usize,
        size: (usize, usize),
        stride: (usize, usize),
        dilation: usize,
        valid: bool,
        rectified: bool,
        bias: Vec<f32>,
        weights: &[Vec<f32>],
    ) -> Layer {
        let places = size.0 * size.1;
        let blocks = weights
            .chunks(TOGETHER)
            .map(|some| {
                let mut block = vec![[0.0; TOGETHER]; places * come];
                for (out, row) in some.iter().enumerate() {
                    for (at, weight) in row.iter().enumerate() {
                        let (input, place) = (at / places, at % places);
                        block[place * come + input][out] = *weight;
                    }
                }
                block
            })
            .collect();
        Layer {
            come,
            go: bias.len(),
            size,
            stride,
            dilation,
            valid,
            rectified,
            bias,
            blocks,
        }
    }

    /// The planes that follow, rectified where the layer is.
    pub(crate) fn run(&self, from: &Planes) -> Planes {
        let mut out = self.sums(from);
        if self.rectified {
            rectify(&mut out.values);
        }
        out
    }

    /// The same at twice the size, with other planes added before it is rectified.
    pub(crate) fn run_onto(&self, from: &Planes, more: &Planes) -> Planes {
        let small = self.sums(from);
        let mut out = more.clone();
        for y in 0..out.height {
            for x in 0..out.width {
                let at = (y * out.width + x) * out.depth;
                let add = small.pixel(
                    (x / 2).min(small.width.saturating_sub(1)),
                    (y / 2).min(small.height.saturating_sub(1)),
                );
                for (to, from) in out.values.iter_mut().skip(at).zip(add) {
                    *to += from;
                }
            }
        }
        rectify(&mut out.values);
        out
    }

    fn sums(&self, from: &Planes) -> Planes {
        let (kh, kw) = self.size;
        let (sy, sx) = self.stride;
        let reach = |k: usize| self.dilation * (k / 2);
        let (pad_y, pad_x) = (if self.valid { 0 } else { reach(kh) }, reach(kw));
        let roomy = padded(from, pad_x, pad_y);
        let count = |size: usize, k: usize, s: usize| {
            size.checked_sub(self.dilation * (k - 1) + 1)
                .map_or(0, |n| n / s + 1)
        };
        let (width, height) = (count(roomy.width, kw, sx), count(roomy.height, kh, sy));
        let mut values = vec![0.0; width * height * self.go];
        for (b, block) in self.blocks.iter().enumerate() {
            let first = b * TOGETHER;
            let here = TOGETHER.min(self.go - first);
            let mut start = [0.0; TOGETHER];
            for (to, from) in start.iter_mut().zip(&self.bias[first..]) {
                *to = *from;
            }
            for y in 0..height {
                for x0 in (0..width).step_by(BESIDE) {
                    // The last ones of a row are summed again rather than one by one.
                    let x = x0.min(width.saturating_sub(BESIDE));
                    let sums = self.four(&roomy, block, (x, y), width, start);
                    for (p, sum) in sums.iter().enumerate().take(width - x) {
                        let at = (y * width + x + p) * self.go + first;
                        values[at..at + here].copy_from_slice(&sum[..here]);
                    }
                }
            }
        }
        Planes {
            width,
            height,
            depth: self.go,
            values,
        }
    }

    /// Eight sums for each of four pixels from (x, y) on.
    fn four(
        &self,
        from: &Planes,
        block: &[[f32; TOGETHER]],
        (x, y): (usize, usize),
        width: usize,
        start: [f32; TOGETHER],
    ) -> [[f32; TOGETHER]; BESIDE] {
        let (kh, kw) = self.size;
        let (sy, sx) = self.stride;
        let come = self.come;
        let mut sums = [start; BESIDE];
        let last = width.saturating_sub(1);
        for ky in 0..kh {
            for kx in 0..kw {
                let row = (y * sy + ky * self.dilation) * from.width + kx * self.dilation;
                let of = |p: usize| {
                    let at = (row + (x + p).min(last) * sx) * come;
                    &from.values[at..at + come]
                };
                let [a, b, c, d] = [of(0), of(1), of(2), of(3)];
                let place = (ky * kw + kx) * come;
                let weights = &block[place..place + come];
                for ((((w, a), b), c), d) in weights.iter().zip(a).zip(b).zip(c).zip(d) {
                    for (k, weight) in w.iter().enumerate() {
                        sums[0][k] += weight * a;
                        sums[1][k] += weight * b;
                        sums[2][k] += weight * c;
                        sums[3][k] += weight * d;
                    }
                }
            }
        }
        sums
    }
}

fn rectify(values: &mut [f32]) {
    for value in values {
        *value = value.max(0.0);
    }
}

/// Planes with room of noughts around them.
fn padded(from: &Planes, x: usize, y: usize) -> Planes {
    let (width, height) = (from.width + 2 * x, from.height + 2 * y);
    let mut values = vec![0.0; width * height * from.depth];
    let row = from.width * from.depth;
    if row > 0 {
        for (n, line) in from.values.chunks_exact(row).enumerate() {
            let at = ((n + y) * width + x) * from.depth;
            values[at..at + row].copy_from_slice(line);
        }
    }
    Planes {
        width,
        height,
        depth: from.depth,
        values,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each output by its definition, one number after another.
    fn plainly(layer: &Layer, weights: &[Vec<f32>], from: &Planes) -> Planes {
        let like = layer.sums(from);
        let (kh, kw) = layer.size;
        let pad_y = if layer.valid {
            0
        } else {
            layer.dilation * (kh / 2)
        } as isize;
        let pad_x = (layer.dilation * (kw / 2)) as isize;
        let mut values = Vec::new();
        for y in 0..like.height {
            for x in 0..like.width {
                for (out, bias) in layer.bias.iter().enumerate() {
                    let mut sum = *bias;
                    for input in 0..layer.come {
                        for ky in 0..kh {
                            for kx in 0..kw {
                                let py =
                                    (y * layer.stride.0 + ky * layer.dilation) as isize - pad_y;
                                let px =
                                    (x * layer.stride.1 + kx * layer.dilation) as isize - pad_x;
                                let inside = px >= 0
                                    && py >= 0
                                    && (px as usize) < from.width
                                    && (py as usize) < from.height;
                                if inside {
                                    let weight = weights[out][(input * kh + ky) * kw + kx];
                                    sum += weight * from.pixel(px as usize, py as usize)[input];
                                }
                            }
                        }
                    }
                    values.push(sum);
                }
            }
        }
        Planes { values, ..like }
    }

    #[test]
    fn sums_are_those_of_the_definition() {
        let mut seed = 1_u32;
        let mut dice = || {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 8) as f32 / 16_777_216.0 - 0.5
        };
        for (come, go, size, stride, dilation, valid, width, height) in [
            (1, 8, (5, 5), (2, 2), 1, false, 21, 14),
            (3, 11, (3, 3), (1, 1), 2, false, 9, 7),
            (2, 9, (4, 3), (1, 1), 1, true, 6, 4),
            (4, 5, (3, 3), (2, 1), 1, false, 2, 8),
            (5, 3, (1, 1), (1, 1), 1, false, 1, 1),
            (2, 8, (1, 5), (1, 1), 1, false, 11, 1),
        ] {
            let weights: Vec<Vec<f32>> = (0..go)
                .map(|_| (0..come * size.0 * size.1).map(|_| dice()).collect())
                .collect();
            let bias = (0..go).map(|_| dice()).collect();
            let layer = Layer::new(come, size, stride, dilation, valid, false, bias, &weights);
            let from = Planes {
                width,
                height,
                depth: come,
                values: (0..width * height * come).map(|_| dice()).collect(),
            };
            let (ours, plain) = (layer.run(&from), plainly(&layer, &weights, &from));
            assert_eq!(ours.values.len(), plain.values.len());
            assert!(!ours.values.is_empty());
            for (a, b) in ours.values.iter().zip(&plain.values) {
                assert!((a - b).abs() < 1e-4, "{a} {b}");
            }
        }
    }
}
