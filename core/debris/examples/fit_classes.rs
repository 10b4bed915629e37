//! Grows the forest that tells classes, from photos with truth:
//!
//! `fit_classes FOREST.bin FOLDER...` writes the forest grown on all photos;
//! `fit_classes --leave-one-out LINES.jsonl FOLDER...` writes, for each photo, the census by a
//! forest that has not seen it (nor its pair), for `score.py`.
//!
//! A folder holds photos, `hints.json` and `truth/NAME.json`. Same photos, same forest.

use std::collections::HashMap;
use std::error::Error;
use std::fs;
use std::io::Write;
use std::path::Path;

use serde_json::Value;
use swarfbook_debris::fit::{Forest, Node, Sample, names, read_by, samples};
use swarfbook_debris::{CensusLine, Settings, Upright, decode};
use swarfbook_job::census::{DebrisClass, PhotoHints, PhotoKind};

const OUTCOMES: usize = 10;
const TREES: usize = 80;
/// Figures tried at a split: near the root of their number, some more since many are weak alone.
const TRIED: usize = 9;
/// Limits tried a figure.
const LIMITS: usize = 12;
/// Least samples in a leaf.
const LEAF: f64 = 2.0;

struct Photo {
    file: String,
    group: String,
    upright: Upright,
    hints: PhotoHints,
    kind: PhotoKind,
    lessons: Vec<Lesson>,
}

#[derive(Clone)]
struct Lesson {
    looks: Vec<f32>,
    outcome: usize,
    weight: f64,
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments: Vec<String> = std::env::args().skip(1).collect();
    let leave_out = arguments.first().is_some_and(|a| a == "--leave-one-out");
    if leave_out {
        arguments.remove(0);
    }
    let (out, folders) = arguments
        .split_first()
        .ok_or("say where to write, and the folders")?;
    let mut photos = Vec::new();
    for folder in folders {
        load(Path::new(folder), &mut photos)?;
    }
    let lessons: usize = photos.iter().map(|p| p.lessons.len()).sum();
    eprintln!("{} photos, {lessons} pieces", photos.len());
    let all = |without: Option<&str>| -> Vec<Lesson> {
        let kept = photos.iter().filter(|p| Some(p.group.as_str()) != without);
        kept.flat_map(|p| p.lessons.clone()).collect()
    };
    if !leave_out {
        fs::write(out, grow(&all(None)).to_bytes())?;
        return Ok(());
    }
    let mut file = fs::File::create(out)?;
    for photo in &photos {
        let forest = grow(&all(Some(&photo.group)));
        let settings = Settings {
            kind: photo.kind,
            threads: 1,
        };
        let census = read_by(&forest, &photo.upright, &photo.hints, &settings);
        let line = CensusLine {
            file: photo.file.clone(),
            census,
            decode_ms: 0.0,
            ms: 0.0,
        };
        writeln!(file, "{}", serde_json::to_string(&line)?)?;
    }
    Ok(())
}

fn load(folder: &Path, photos: &mut Vec<Photo>) -> Result<(), Box<dyn Error>> {
    let hints: HashMap<String, PhotoHints> =
        serde_json::from_str(&fs::read_to_string(folder.join("hints.json"))?)?;
    let mut files: Vec<_> = fs::read_dir(folder)?
        .filter_map(|e| Some(e.ok()?.path()))
        .collect();
    files.sort();
    for path in files
        .iter()
        .filter(|p| p.extension().is_some_and(|e| e == "jpg"))
    {
        let stem = path
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let truth = folder.join("truth").join(format!("{stem}.json"));
        let truth: Value = serde_json::from_str(&fs::read_to_string(truth)?)?;
        let file = format!("{stem}.jpg");
        let hints = hints.get(&file).cloned().unwrap_or_default();
        let kind = match stem.split('-').next() {
            Some("pan") => PhotoKind::Pan,
            Some("magnet") => PhotoKind::Magnet,
            _ => PhotoKind::Patch,
        };
        let upright = decode(&fs::read(path)?)?;
        let (seen, px_per_mm) = samples(&upright, &hints, &Settings { kind, threads: 1 });
        let group = if stem.starts_with("pair-") {
            "pair".to_owned()
        } else {
            stem
        };
        let lessons = teach(&seen, px_per_mm, &truth);
        photos.push(Photo {
            file,
            group,
            upright,
            hints,
            kind,
            lessons,
        });
    }
    Ok(())
}

/// Pairs pieces with the truth, nearest and most alike in size first; a piece left over is no
/// particle, a piece on one that is hidden or too small to be seen teaches nothing.
fn teach(seen: &[Sample], px_per_mm: f64, truth: &Value) -> Vec<Lesson> {
    let empty = Vec::new();
    let real = truth["particles"].as_array().unwrap_or(&empty);
    let number = |v: &Value| v.as_f64().unwrap_or(0.0);
    let mut pairs = Vec::new();
    for (i, s) in seen.iter().enumerate() {
        for (j, q) in real.iter().enumerate() {
            let feret = number(&q["feret_max_mm"]);
            let (dx, dy) = (
                s.centre_px[0] - number(&q["x_px"]),
                s.centre_px[1] - number(&q["y_px"]),
            );
            let distance = dx.hypot(dy) / px_per_mm;
            if distance <= (0.5 * feret).max(0.3) {
                pairs.push((distance / feret + (s.feret_max_mm / feret).ln().abs(), i, j));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut truth_of = vec![None; seen.len()];
    let mut taken = vec![false; real.len()];
    let mut near = vec![false; seen.len()];
    for (_, i, j) in pairs {
        near[i] = true;
        if truth_of[i].is_none() && !taken[j] {
            truth_of[i] = Some(j);
            taken[j] = true;
        }
    }
    let mut lessons = Vec::new();
    for (i, s) in seen.iter().enumerate() {
        let outcome = match truth_of[i].map(|j| &real[j]) {
            None => 0,
            Some(q) if number(&q["visible"]) < 0.5 || number(&q["visible_px"]) < 12.0 => continue,
            Some(q) => {
                let name = q["class"].clone();
                let Ok(class) = serde_json::from_value::<DebrisClass>(name) else {
                    continue;
                };
                DebrisClass::ALL
                    .iter()
                    .position(|c| *c == class)
                    .map_or(0, |k| k + 1)
            }
        };
        lessons.push(Lesson {
            looks: s.looks.clone(),
            outcome,
            weight: 1.0,
        });
    }
    lessons
}

/// A small generator of our own (xorshift), so that the forest is the same each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 33) as usize % n.max(1)
    }
}

fn grow(lessons: &[Lesson]) -> Forest {
    let mut dice = Dice(0x5157_4152_4642_4f4b);
    let trees = (0..TREES).map(|_| {
        let drawn: Vec<usize> = (0..lessons.len())
            .map(|_| dice.below(lessons.len()))
            .collect();
        let mut tree = vec![Node::Leaf([0; OUTCOMES])];
        split(lessons, drawn, 0, &mut tree, &mut dice);
        tree
    });
    Forest {
        trees: trees.collect(),
    }
}

fn shares(lessons: &[Lesson], drawn: &[usize]) -> [f64; OUTCOMES] {
    let mut sum = [0.0; OUTCOMES];
    for i in drawn {
        sum[lessons[*i].outcome] += lessons[*i].weight;
    }
    sum
}

/// Sum of squares over the sum: what Gini's impurity leaves to be as large as can be.
fn purity(sum: &[f64; OUTCOMES]) -> f64 {
    let total: f64 = sum.iter().sum();
    if total > 0.0 {
        sum.iter().map(|v| v * v).sum::<f64>() / total
    } else {
        0.0
    }
}

fn split(lessons: &[Lesson], drawn: Vec<usize>, at: usize, tree: &mut Vec<Node>, dice: &mut Dice) {
    let here = shares(lessons, &drawn);
    let total: f64 = here.iter().sum();
    let mut best: Option<(f64, u8, f32)> = None;
    if here.iter().filter(|v| **v > 0.0).count() > 1 && total >= 2.0 * LEAF {
        for _ in 0..TRIED {
            let figure = dice.below(names().len());
            for _ in 0..LIMITS {
                let (a, b) = (
                    drawn[dice.below(drawn.len())],
                    drawn[dice.below(drawn.len())],
                );
                let limit = 0.5 * (lessons[a].looks[figure] + lessons[b].looks[figure]);
                let mut left = [0.0; OUTCOMES];
                for i in &drawn {
                    if lessons[*i].looks[figure] <= limit {
                        left[lessons[*i].outcome] += lessons[*i].weight;
                    }
                }
                let right: [f64; OUTCOMES] = std::array::from_fn(|k| here[k] - left[k]);
                let (l, r) = (left.iter().sum::<f64>(), right.iter().sum::<f64>());
                let gain = purity(&left) + purity(&right);
                if l >= LEAF && r >= LEAF && best.is_none_or(|b| gain > b.0) {
                    best = Some((gain, figure as u8, limit));
                }
            }
        }
    }
    let Some((_, figure, limit)) = best else {
        tree[at] = Node::Leaf(here.map(|v| (v / total.max(1e-9) * 255.0).round() as u8));
        return;
    };
    let below = tree.len();
    tree[at] = Node::Split {
        figure,
        limit,
        below: below as u16,
    };
    tree.push(Node::Leaf([0; OUTCOMES]));
    tree.push(Node::Leaf([0; OUTCOMES]));
    let (left, right): (Vec<usize>, Vec<usize>) = drawn
        .into_iter()
        .partition(|i| lessons[*i].looks[usize::from(figure)] <= limit);
    split(lessons, left, below, tree, dice);
    split(lessons, right, below + 1, tree, dice);
}
