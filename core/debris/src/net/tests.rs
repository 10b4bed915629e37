//! Networks drawn at random, compared with the plainest way of working them out.

use std::collections::BTreeMap;

use proptest::prelude::*;
use pulp::Arch;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::Unusable;
use super::kernel::Instructions;
use super::layer::{Network, Op};

/// What a convolution is made of: weights in the order output, input, row, column, biases, shifts.
type Made = (Vec<i16>, Vec<i32>, Vec<u8>);

/// A model file from its layers and what follows them.
fn file(layers: &[Value], inputs: usize, numbers: &[u8]) -> Vec<u8> {
    let last = layers.last().map_or("rgb", |l| l["name"].as_str().unwrap());
    let head = json!({
        "name": "drawn", "px_per_mm": 8.0,
        "input": {"name": "rgb", "mean": vec![0.0; inputs], "std": vec![1.0; inputs], "unit": 1.0},
        "layers": layers, "outputs": {"last": {"layer": last, "unit": 1.0}},
    });
    let head = head.to_string();
    let mut rest = (head.len() as u32).to_le_bytes().to_vec();
    rest.extend(head.bytes());
    rest.extend(numbers);
    let mut all = b"SWARFNET\x02\0\0\0".to_vec();
    all.extend(Sha256::digest(&rest));
    all.extend(rest);
    all
}

/// As they lie in the file.
fn bytes((weights, bias, shift): &Made) -> Vec<u8> {
    let bias = bias.iter().flat_map(|b| b.to_le_bytes());
    let weights = weights.iter().flat_map(|w| w.to_le_bytes());
    shift.iter().copied().chain(bias).chain(weights).collect()
}

struct Dice(u32);

impl Dice {
    fn next(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % n
    }

    /// From -n to n.
    fn number(&mut self, n: i32) -> i32 {
        self.next(2 * n as usize + 1) as i32 - n
    }
}

/// A network of layers of all kinds, drawn, and what its convolutions are made of.
fn drawn(seed: u32) -> (Network, BTreeMap<String, Made>) {
    let mut dice = Dice(seed);
    let inputs = 1 + dice.next(4);
    // Name, channels, halvings.
    let mut all = vec![("rgb".to_owned(), inputs, 0)];
    let (mut layers, mut numbers, mut made) = (Vec::new(), Vec::new(), BTreeMap::new());
    for k in 0..3 + dice.next(10) {
        let (from, channels, halved) = all[all.len() - 1 - dice.next(all.len().min(3))].clone();
        let name = format!("l{k}");
        let mut layer = json!({"name": name, "from": [from], "relu": dice.next(2) == 0});
        let partner = all
            .iter()
            .rev()
            .find(|(n, c, h)| *n != from && *h == halved && *c == channels);
        let (kind, outputs, at) = match dice.next(9) {
            0 if channels <= 8 => ("space_to_depth", 4 * channels, halved + 1),
            1 => ("max_pool", channels, halved + 1),
            2 | 3 if halved > 0 => ("upsample_nearest", channels, halved - 1),
            4 if halved > 0 && channels % 4 == 0 => ("pixel_shuffle", channels / 4, halved - 1),
            5 | 6 if partner.is_some() => {
                layer["from"] = json!([from, partner.unwrap().0]);
                ("add", channels, halved)
            }
            pick if channels % 2 == 0 => {
                let (kind, side) = [("conv3", 9), ("conv1", 1)][pick % 2];
                // Some of those whose stride the kernel knows, and any.
                let known = [12, 16, 48, 96, 128];
                let outputs = match dice.next(2) {
                    0 => known[dice.next(known.len())],
                    _ => 1 + dice.next(40),
                };
                layer["out"] = json!(outputs);
                let n = outputs * channels * side;
                let learned: Made = (
                    (0..n).map(|_| dice.number(300) as i16).collect(),
                    (0..outputs).map(|_| dice.number(500_000)).collect(),
                    (0..outputs).map(|_| dice.next(14) as u8).collect(),
                );
                numbers.extend(bytes(&learned));
                made.insert(name.clone(), learned);
                (kind, outputs, halved)
            }
            _ => ("max_pool", channels, halved + 1),
        };
        layer["kind"] = json!(kind);
        layers.push(layer);
        if at < 4 {
            all.push((name, outputs, at));
        }
    }
    // Sums of sums may pass what 16 bits hold: such a one is refused, and a shorter one drawn.
    match Network::from_bytes(&file(&layers, inputs, &numbers)) {
        Ok(network) => (network, made),
        Err(Unusable::Head(said)) if said.contains("overflow") => drawn(seed.wrapping_add(77)),
        Err(other) => panic!("{other}"),
    }
}

/// Every layer's plane, whole, number by number.
fn plainly(
    network: &Network,
    made: &BTreeMap<String, Made>,
    [width, height]: [usize; 2],
    input: &[i16],
) -> Vec<Vec<i64>> {
    let mut planes: Vec<Vec<i64>> = Vec::new();
    for layer in &network.layers {
        let n = layer.channels;
        let (w, h) = (width >> layer.halved, height >> layer.halved);
        let at = |k: usize, x: i64, y: i64, c: usize| {
            let from = &network.layers[layer.from[k]];
            let (w, h) = (
                (width >> from.halved) as i64,
                (height >> from.halved) as i64,
            );
            let inside = x >= 0 && y >= 0 && x < w && y < h;
            inside.then(|| planes[layer.from[k]][(y * w + x) as usize * from.channels + c])
        };
        let mut out = vec![0; w * h * n];
        for (place, out) in out.iter_mut().enumerate() {
            let (x, y, c) = ((place / n % w) as i64, (place / n / w) as i64, place % n);
            let square = |c: usize| {
                [(0, 0), (1, 0), (0, 1), (1, 1)]
                    .map(|(i, j)| at(0, 2 * x + i, 2 * y + j, c).unwrap())
            };
            *out = match &layer.op {
                Op::Input => i64::from(input[place]),
                Op::Dense(d) => {
                    let (weights, bias, shift) = &made[&layer.name];
                    let (side, reach) = (d.side as i64, d.side as i64 / 2);
                    let mut sum = i64::from(bias[c]);
                    for k in 0..d.side * d.side * d.inputs {
                        let (input, tap) = (k / (d.side * d.side), (k % (d.side * d.side)) as i64);
                        let v = at(0, x + tap % side - reach, y + tap / side - reach, input);
                        let weight = weights[c * d.side * d.side * d.inputs + k];
                        sum += v.unwrap_or(0) * i64::from(weight);
                    }
                    let rounded = (sum as f64 / f64::from(1u32 << shift[c]) + 0.5).floor();
                    let [least, most] = d.range.map(f64::from);
                    rounded.clamp(least, most) as i64
                }
                Op::SpaceToDepth => square(c / 4)[c % 4],
                Op::MaxPool => square(c).into_iter().max().unwrap(),
                Op::UpsampleNearest => at(0, x / 2, y / 2, c).unwrap(),
                Op::Add => (0..layer.from.len()).map(|k| at(k, x, y, c).unwrap()).sum(),
                Op::PixelShuffle => {
                    at(0, x / 2, y / 2, 4 * c + (2 * (y % 2) + x % 2) as usize).unwrap()
                }
            };
        }
        planes.push(out);
    }
    planes
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    /// Row by row, whatever is asked for beside it, with wide instructions and without: the same as of whole
    /// planes.
    #[test]
    fn rows_as_whole_planes(seed in 0u32..1_000_000, across in 1usize..5, down in 1usize..5) {
        let (network, made) = drawn(seed);
        let size = [network.multiple * across, network.multiple * down];
        let mut dice = Dice(seed + 7);
        let n = network.layers[0].channels;
        let input: Vec<i16> = (0..size[0] * size[1] * n).map(|_| dice.number(4095) as i16).collect();
        let wanted = plainly(&network, &made, size, &input);
        let names: Vec<&str> = network.layers.iter().map(|l| l.name.as_str()).collect();
        let few = [names[dice.next(names.len())], names[names.len() - 1]];
        for (instructions, names) in all_instructions().into_iter().flat_map(|a| [(a, &names[..]), (a, &few)]) {
            let mut got = vec![Vec::new(); names.len()];
            let row = |y: usize, out: &mut [i16]| out.copy_from_slice(&input[y * size[0] * n..][..size[0] * n]);
            network.run_with(instructions, size, names, row, |k, y, row: &[i16]| {
                assert_eq!(got[k].len(), y * row.len());
                got[k].extend(row.iter().map(|v| i64::from(*v)));
            });
            for (k, name) in names.iter().enumerate() {
                let index = network.index(name).unwrap();
                prop_assert_eq!(&got[k], &wanted[index], "{} {:?} {:?}", name, network.layers[index].op, instructions);
            }
        }
    }
}

/// All instructions that this machine has.
fn all_instructions() -> Vec<Instructions> {
    let archs = [Arch::new(), Arch::Scalar];
    #[cfg(target_arch = "x86_64")]
    let archs = archs
        .into_iter()
        .chain(pulp::x86::V3::try_new().map(Arch::V3));
    let best = std::iter::once(Instructions::best());
    best.chain(archs.into_iter().map(Instructions::Of))
        .collect()
}

#[test]
fn a_damaged_file_is_refused_with_its_reason() {
    let layer = json!({"name": "a", "kind": "conv1", "from": ["rgb"], "out": 2});
    let numbers = bytes(&(vec![1; 2 * 4], vec![0; 2], vec![0; 2]));
    let good = file(std::slice::from_ref(&layer), 4, &numbers);
    assert!(Network::from_bytes(&good).is_ok());
    assert_eq!(Network::from_bytes(b""), Err(Unusable::NoModel));
    let mut newer = good.clone();
    newer[8] = 3;
    assert_eq!(Network::from_bytes(&newer), Err(Unusable::Version(3)));
    for at in 12..good.len() {
        let mut changed = good.clone();
        changed[at] ^= 1;
        assert_eq!(
            Network::from_bytes(&changed),
            Err(Unusable::Damaged),
            "{at}"
        );
        assert!(Network::from_bytes(&good[..at]).is_err());
    }
    let said = |layers: &[Value], n: usize| match Network::from_bytes(&file(layers, 4, &vec![0; n]))
    {
        Err(Unusable::Head(said)) => said,
        other => panic!("{other:?}"),
    };
    assert!(said(std::slice::from_ref(&layer), 99).contains("no layer takes"));
    let on = |from: &str, kind: &str| json!({"name": "b", "kind": kind, "from": [from]});
    assert!(said(&[on("c", "max_pool")], 0).contains("not there"));
    assert!(said(&[on("rgb", "upsample_nearest")], 0).contains("doubled"));
    assert!(said(&[on("rgb", "add")], 0).contains("do not fit"));
    assert!(said(&[on("rgb", "conv1")], 0).contains("no outputs"));
    assert!(said(&[on("rgb", "turn")], 0).contains("turn"));
}

/// Sums that could pass 32 bits, and outputs whose sum could pass 16, are refused before anything runs.
#[test]
fn sums_that_could_overflow_are_refused() {
    let dense = json!({"name": "a", "kind": "conv1", "from": ["rgb"], "out": 1});
    let refused = |learned: &Made, more: &[Value]| {
        let layers: Vec<Value> = std::iter::once(&dense).chain(more).cloned().collect();
        match Network::from_bytes(&file(&layers, 16, &bytes(learned))) {
            Err(Unusable::Head(said)) => said.contains("overflow"),
            other => other.map(|_| false).unwrap(),
        }
    };
    // 16 inputs of at most 4095 times 32,767 come to 2,146,893,840 of 2,147,483,647.
    let full = |bias| (vec![i16::MAX; 16], vec![bias], vec![0]);
    assert!(!refused(&full(589_807), &[]));
    assert!(refused(&full(589_808), &[]));
    assert!(refused(&full(-589_808), &[]));
    let of = |name: &str, from: &[&str]| json!({"name": name, "kind": "add", "from": from});
    // Eight times 4095 is 32,760, nine times is more than 32,767.
    assert!(!refused(&full(0), &[of("b", &["a"; 8])]));
    assert!(refused(&full(0), &[of("b", &["a"; 9])]));
}

/// What PyTorch gave for a network of random weights (`learn/fixture.py`), in the same whole numbers.
#[test]
fn as_pytorch() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/net");
    for name in ["tiny", "finder"] {
        let bytes = std::fs::read(folder.join(format!("{name}.net"))).unwrap();
        let told = std::fs::read_to_string(folder.join(format!("{name}.json"))).unwrap();
        let told: Value = serde_json::from_str(&told).unwrap();
        let numbers = |v: &Value| -> Vec<i16> { serde_json::from_value(v.clone()).unwrap() };
        let network = Network::from_bytes(&bytes).unwrap();
        let (input, shape) = (numbers(&told["input"]), numbers(&told["shape"]));
        let [channels, height, width] = [0, 1, 2].map(|k| shape[k] as usize);
        let row = |y: usize, out: &mut [i16]| {
            for (at, out) in out.iter_mut().enumerate() {
                let (x, c) = (at / channels, at % channels);
                *out = input[(c * height + y) * width + x];
            }
        };
        for (output, wanted) in told["outputs"].as_object().unwrap() {
            let layer = network.head.outputs[output].layer.as_str();
            let mut got: Vec<i16> = Vec::new();
            network.run([width, height], &[layer], row, |_, _, row| got.extend(row));
            let (values, shape) = (numbers(&wanted["values"]), numbers(&wanted["shape"]));
            let (n, places) = (shape[0] as usize, got.len() / shape[0] as usize);
            let turned: Vec<i16> = (0..got.len())
                .map(|at| values[at % n * places + at / n])
                .collect();
            assert_eq!(got, turned, "{name} {output}");
        }
    }
}
