//! Networks drawn at random, held against the plainest way of working them out.

use proptest::prelude::*;
use pulp::Arch;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

use super::layer::{Network, Op, Size};
use super::{Unusable, kernel};

/// A model file from its layers and numbers.
fn file(layers: &[Value], inputs: usize, numbers: &[u8]) -> Vec<u8> {
    let head = json!({
        "name": "drawn", "px_per_mm": 8.0,
        "input": {"name": "rgb", "mean": vec![0.0; inputs], "std": vec![1.0; inputs]},
        "layers": layers, "outputs": {"last": layers.last().map_or("rgb", |l| l["name"].as_str().unwrap())},
    });
    let head = head.to_string();
    let mut rest = (head.len() as u32).to_le_bytes().to_vec();
    rest.extend(head.bytes());
    rest.extend(numbers);
    let mut all = b"SWARFNET\x01\0\0\0".to_vec();
    all.extend(Sha256::digest(&rest));
    all.extend(rest);
    all
}

struct Dice(u32);

impl Dice {
    fn next(&mut self, n: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % n
    }

    fn number(&mut self) -> f32 {
        self.next(1 << 16) as f32 / 32768.0 - 1.0
    }
}

/// A network of layers of all kinds, drawn.
fn drawn(seed: u32) -> Network {
    let mut dice = Dice(seed);
    let inputs = 1 + dice.next(4);
    // Name, channels, halvings.
    let mut all = vec![("rgb".to_owned(), inputs, 0)];
    let (mut layers, mut numbers) = (Vec::new(), Vec::new());
    for k in 0..3 + dice.next(10) {
        let (from, channels, halved) = all[all.len() - 1 - dice.next(all.len().min(3))].clone();
        let name = format!("l{k}");
        let mut layer = json!({"name": name, "from": [from], "relu": dice.next(2) == 0});
        let partner = all
            .iter()
            .rev()
            .find(|(n, c, h)| *n != from && *h == halved && *c == channels);
        let beside = all
            .iter()
            .rev()
            .find(|(n, _, h)| *n != from && *h == halved);
        let (kind, made, at) = match dice.next(12) {
            0 if channels <= 8 => ("space_to_depth", 4 * channels, halved + 1),
            1 => ("max_pool", channels, halved + 1),
            2 => ("mean_pool", channels, halved + 1),
            3 if halved > 0 => ("upsample_nearest", channels, halved - 1),
            4 if halved > 0 => ("upsample_bilinear", channels, halved - 1),
            5 if halved > 0 && channels % 4 == 0 => ("pixel_shuffle", channels / 4, halved - 1),
            6 if beside.is_some() => {
                let (n, c, _) = beside.unwrap();
                layer["from"] = json!([from, n]);
                ("concat", channels + c, halved)
            }
            7 | 8 if partner.is_some() => {
                layer["from"] = json!([from, partner.unwrap().0]);
                (
                    if dice.next(2) == 0 { "add" } else { "subtract" },
                    channels,
                    halved,
                )
            }
            9 => {
                layer["weights"] = json!("f32");
                (0..10 * channels).for_each(|_| numbers.extend(dice.number().to_le_bytes()));
                ("depthwise3", channels, halved)
            }
            pick => {
                let (kind, side) = if pick % 2 == 0 {
                    ("conv3", 9)
                } else {
                    ("conv1", 1)
                };
                let made = 1 + dice.next(20);
                layer["out"] = json!(made);
                let n = made * channels * side;
                if dice.next(2) == 0 {
                    layer["weights"] = json!("f32");
                    (0..n).for_each(|_| numbers.extend(dice.number().to_le_bytes()));
                } else {
                    layer["weights"] = json!("i8");
                    (0..made).for_each(|_| numbers.extend((dice.number() / 128.0).to_le_bytes()));
                    (0..n).for_each(|_| numbers.push(dice.next(256) as u8));
                }
                (0..made).for_each(|_| numbers.extend(dice.number().to_le_bytes()));
                (kind, made, halved)
            }
        };
        layer["kind"] = json!(kind);
        layers.push(layer);
        if at < 4 {
            all.push((name, made, at));
        }
    }
    Network::from_bytes(&file(&layers, inputs, &numbers)).unwrap()
}

/// Every layer's plane, whole, number by number.
fn plainly(network: &Network, [width, height]: [usize; 2], input: &[f32]) -> Vec<Vec<f32>> {
    let mut planes: Vec<Vec<f32>> = Vec::new();
    for layer in &network.layers {
        let n = layer.channels;
        let Size::Halved(halved) = layer.size else {
            unreachable!()
        };
        let (w, h) = (width >> halved, height >> halved);
        let from: Vec<(&Vec<f32>, usize)> = layer
            .from
            .iter()
            .map(|f| (&planes[*f], network.layers[*f].channels))
            .collect();
        let wide = |k: usize| match network.layers[layer.from[k]].size {
            Size::Halved(n) => width >> n,
            Size::One => 1,
        };
        let at = |k: usize, x: i64, y: i64, c: usize| {
            let (plane, n) = from[k];
            let (w, h) = (wide(k) as i64, (plane.len() / n / wide(k)) as i64);
            let inside = x >= 0 && y >= 0 && x < w && y < h;
            inside.then(|| plane[(y * w + x) as usize * n + c])
        };
        let mut out = vec![0.0; w * h * n];
        for (place, out) in out.iter_mut().enumerate() {
            let (x, y, c) = ((place / n % w) as i64, (place / n / w) as i64, place % n);
            let square = |c: usize| {
                [(0, 0), (1, 0), (0, 1), (1, 1)]
                    .map(|(i, j)| at(0, 2 * x + i, 2 * y + j, c).unwrap())
            };
            let near = |d: i64| {
                let (w, h) = (
                    wide(0) as i64,
                    (from[0].0.len() / from[0].1 / wide(0)) as i64,
                );
                let beside = |v: i64, side: i64| {
                    (v / 2 + if v % 2 == 0 { -1 } else { 1 }).clamp(0, side - 1)
                };
                match d {
                    0 => (x / 2, y / 2),
                    1 => (x / 2, beside(y, h)),
                    2 => (beside(x, w), y / 2),
                    _ => (beside(x, w), beside(y, h)),
                }
            };
            *out = match &layer.op {
                Op::Input => input[place],
                Op::Dense(d) => {
                    let (block, lane, mut sum) = (c / kernel::LANES, c % kernel::LANES, d.bias[c]);
                    let reach = d.side as i64 / 2;
                    for k in 0..d.side * d.side * d.inputs {
                        let (tap, i) = (k / d.inputs, k % d.inputs);
                        let (dx, dy) = (tap % d.side, tap / d.side);
                        let v =
                            at(0, x + dx as i64 - reach, y + dy as i64 - reach, i).unwrap_or(0.0);
                        let whole = d.side * d.side * d.inputs;
                        sum += v * d.weights[(block * whole + k) * kernel::LANES + lane];
                    }
                    if d.relu && sum <= 0.0 { 0.0 } else { sum }
                }
                Op::Depthwise(d) => {
                    let mut sum = d.bias[c];
                    for tap in 0..9 {
                        let v = at(0, x + tap % 3 - 1, y + tap / 3 - 1, c).unwrap_or(0.0);
                        sum += v * d.weights[tap as usize * n + c];
                    }
                    if d.relu && sum <= 0.0 { 0.0 } else { sum }
                }
                Op::SpaceToDepth => square(c / 4)[c % 4],
                Op::MaxPool => square(c).into_iter().fold(f32::MIN, f32::max),
                Op::MeanPool => {
                    let [a, b, c, d] = square(c);
                    0.25 * ((a + b) + (c + d))
                }
                Op::UpsampleNearest => at(0, x / 2, y / 2, c).unwrap(),
                Op::UpsampleBilinear => {
                    let v = [0, 1, 2, 3].map(near).map(|(x, y)| at(0, x, y, c).unwrap());
                    0.75 * (0.75 * v[0] + 0.25 * v[1]) + 0.25 * (0.75 * v[2] + 0.25 * v[3])
                }
                Op::Concat => {
                    let mut c = c;
                    let mut k = 0;
                    while c >= from[k].1 {
                        c -= from[k].1;
                        k += 1;
                    }
                    at(k, x, y, c).unwrap()
                }
                Op::Add => (1..from.len())
                    .fold(at(0, x, y, c).unwrap(), |s, k| s + at(k, x, y, c).unwrap()),
                Op::Subtract => at(0, x, y, c).unwrap() - at(1, x, y, c).unwrap(),
                Op::PixelShuffle => {
                    at(0, x / 2, y / 2, 4 * c + (2 * (y % 2) + x % 2) as usize).unwrap()
                }
                Op::GlobalMean => unreachable!(),
            };
        }
        planes.push(out);
    }
    planes
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]
    /// Row by row, whatever is asked for beside it, with wide instructions and without: the same bits as
    /// of whole planes.
    #[test]
    fn rows_as_whole_planes(seed in 0u32..1_000_000, across in 1usize..5, down in 1usize..5) {
        let network = drawn(seed);
        let size = [network.multiple * across, network.multiple * down];
        let mut dice = Dice(seed + 7);
        let n = network.layers[0].channels;
        let input: Vec<f32> = (0..size[0] * size[1] * n).map(|_| dice.number()).collect();
        let wanted = plainly(&network, size, &input);
        let names: Vec<&str> = network.layers.iter().map(|l| l.name.as_str()).collect();
        let few = [names[dice.next(names.len())], names[names.len() - 1]];
        for (arch, names) in [(Arch::new(), &names[..]), (Arch::Scalar, &names), (Arch::new(), &few), (Arch::Scalar, &few)] {
            let mut got = vec![Vec::new(); names.len()];
            let row = |y: usize, out: &mut [f32]| out.copy_from_slice(&input[y * size[0] * n..][..size[0] * n]);
            network.run_with(arch, size, names, row, |k, y, row: &[f32]| {
                assert_eq!(got[k].len(), y * row.len());
                got[k].extend_from_slice(row);
            });
            for (k, name) in names.iter().enumerate() {
                let index = network.index(name).unwrap();
                let bits = |v: &[f32]| v.iter().map(|v| v.to_bits()).collect::<Vec<_>>();
                prop_assert_eq!(bits(&got[k]), bits(&wanted[index]), "{} {:?}", name, network.layers[index].size);
            }
        }
    }
}

#[test]
fn a_damaged_file_is_refused_with_its_reason() {
    let layer = json!({"name": "a", "kind": "conv1", "from": ["rgb"], "out": 2, "weights": "f16"});
    let numbers = [0u8; 2 * 3 * 2 + 4 * 2];
    let good = file(std::slice::from_ref(&layer), 3, &numbers);
    assert!(Network::from_bytes(&good).is_ok());
    assert_eq!(Network::from_bytes(b""), Err(Unusable::NoModel));
    let mut newer = good.clone();
    newer[8] = 2;
    assert_eq!(Network::from_bytes(&newer), Err(Unusable::Version(2)));
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
    let said = |layers: &[Value], n: usize| match Network::from_bytes(&file(layers, 3, &vec![0; n]))
    {
        Err(Unusable::Head(said)) => said,
        other => panic!("{other:?}"),
    };
    assert!(said(std::slice::from_ref(&layer), 99).contains("no layer takes"));
    let on = |from: &str, kind: &str| json!({"name": "b", "kind": kind, "from": [from]});
    assert!(said(&[on("c", "max_pool")], 0).contains("not there"));
    assert!(said(&[on("rgb", "upsample_nearest")], 0).contains("doubled"));
    assert!(said(&[on("rgb", "concat")], 0).contains("do not fit"));
    assert!(said(&[on("rgb", "depthwise3")], 0).contains("weights"));
    assert!(said(&[on("rgb", "turn")], 0).contains("turn"));
}

/// What PyTorch wrote for networks of random weights (`learn/fixture.py`): float sums in another order, so to
/// a small share of the layer's largest number.
#[test]
fn as_pytorch() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/net");
    for name in ["tiny", "finder", "looker"] {
        let bytes = std::fs::read(folder.join(format!("{name}.net"))).unwrap();
        let told = std::fs::read_to_string(folder.join(format!("{name}.json"))).unwrap();
        let told: Value = serde_json::from_str(&told).unwrap();
        let numbers = |v: &Value| -> Vec<f32> {
            let all = v.as_array().unwrap().iter();
            all.map(|v| v.as_f64().unwrap() as f32).collect()
        };
        let network = Network::from_bytes(&bytes).unwrap();
        let (input, shape) = (numbers(&told["input"]), numbers(&told["shape"]));
        let [channels, height, width] = [0, 1, 2].map(|k| shape[k] as usize);
        let (mean, std) = (&network.head.input.mean, &network.head.input.std);
        let row = |y: usize, out: &mut [f32]| {
            for (at, out) in out.iter_mut().enumerate() {
                let (x, c) = (at / channels, at % channels);
                *out = (input[(c * height + y) * width + x] - mean[c]) / std[c];
            }
        };
        for (output, wanted) in told["outputs"].as_object().unwrap() {
            let layer = network.head.outputs[output].as_str();
            let mut got: Vec<f32> = Vec::new();
            network.run([width, height], &[layer], row, |_, _, row| got.extend(row));
            let (values, shape) = (numbers(&wanted["values"]), numbers(&wanted["shape"]));
            let n = shape[0] as usize;
            let places = got.len() / n;
            assert_eq!(got.len(), values.len(), "{name} {output}");
            let most = values.iter().fold(1f32, |m, v| m.max(v.abs()));
            for (at, v) in got.iter().enumerate() {
                let there = values[at % n * places + at / n];
                assert!(
                    (v - there).abs() < 1e-4 * most,
                    "{name} {output} {at}: {v} {there}"
                );
            }
        }
    }
}
