//! Grows trees one after the other, each on what those before it left wrong: gradient boosting with
//! second derivatives (Friedman 2001; gains and leaves as Chen and Guestrin 2016), on a draw of the
//! lessons and of the figures each round.

use swarfbook_debris::fit::{Boosted, Node, adding};

use crate::dice::Dice;

/// How trees are grown.
#[derive(Clone, Copy)]
pub struct Boost {
    pub rounds: usize,
    /// Share of what a tree would correct that it does.
    pub rate: f64,
    /// Leaves of a tree, at most.
    pub leaves: usize,
    /// Splits from the top to a leaf, at most: those who walk side by side wait for the longest way.
    pub deep: usize,
    /// Least lessons in a leaf.
    pub leaf: usize,
    /// Lessons drawn a round, at most; and the share of all.
    pub drawn: usize,
    pub share: f64,
    /// Share of the figures drawn a tree.
    pub figures: f64,
}

/// Figures of lessons, what is to be told of each (its outcome; of one, whether it is so), and the
/// folder each is from.
pub struct Lessons<'a> {
    pub looks: Vec<&'a [f32]>,
    pub outcome: Vec<usize>,
    pub folder: Vec<usize>,
}

/// Steps that a figure is told in.
const STEPS: usize = 64;
/// Weight against large leaves, and how far a leaf goes at most.
const RIDGE: f64 = 3.0;
const MOST: f64 = 4.0;

/// First and second derivative of the loss by the log odds, and how many.
#[derive(Clone, Copy, Default)]
struct Sum {
    first: f64,
    second: f64,
    count: u32,
}

impl Sum {
    fn add(&mut self, other: &Sum) {
        self.first += other.first;
        self.second += other.second;
        self.count += other.count;
    }

    fn less(&self, other: &Sum) -> Sum {
        Sum {
            first: self.first - other.first,
            second: self.second - other.second,
            count: self.count - other.count,
        }
    }

    fn worth(&self) -> f64 {
        self.first * self.first / (self.second + RIDGE)
    }
}

/// The lessons' figures in steps.
struct Steps {
    /// Largest value of each step but the last, by figure.
    limits: Vec<Vec<f32>>,
    /// By figure, of each lesson.
    of: Vec<Vec<u8>>,
}

/// Trees for `K` outcomes; the same lessons, the same trees.
pub fn boost<const K: usize>(lessons: &Lessons, how: Boost) -> Boosted<K> {
    let count = lessons.looks.len();
    let mut dice = Dice::new(1);
    let folders = by_folder(lessons);
    let steps = steps_of(lessons, &folders, &mut dice);
    let start = starts::<K>(lessons, &folders);
    let mut trees: Vec<Vec<Node<2>>> = start.iter().map(|s| vec![adding(*s)]).collect();
    let mut odds = vec![start; count];
    for _ in 0..how.rounds {
        let draw = (how.share * count as f64) as usize;
        let drawn: Vec<u32> = (0..draw.min(how.drawn))
            .map(|_| folders.draw(&mut dice))
            .collect();
        let shares: Vec<[f64; K]> = drawn.iter().map(|i| shares(&odds[*i as usize])).collect();
        for k in 0..K {
            let slopes: Vec<Sum> = drawn
                .iter()
                .zip(&shares)
                .map(|(i, p)| {
                    let is = lessons.outcome[*i as usize] == if K == 1 { 1 } else { k };
                    Sum {
                        first: f64::from(u8::from(is)) - p[k],
                        second: (p[k] * (1.0 - p[k])).max(1e-6),
                        count: 1,
                    }
                })
                .collect();
            let tree = tree(&steps, &drawn, &slopes, how, &mut dice);
            for (i, odds) in odds.iter_mut().enumerate() {
                odds[k] += tree.at(&steps, i);
            }
            trees.push(tree.nodes(&steps));
        }
    }
    Boosted::new(trees)
}

/// Lessons by folder. Each folder counts by the root of how many it has, lest the many of one renderer
/// drown the few of another.
struct Folders {
    lessons: Vec<Vec<u32>>,
    /// Running sums of the roots, in whole numbers.
    upto: Vec<usize>,
}

impl Folders {
    fn draw(&self, dice: &mut Dice) -> u32 {
        let at = dice.below(*self.upto.last().unwrap_or(&1));
        let k = self.upto.iter().position(|u| at < *u).unwrap_or(0);
        self.lessons[k][dice.below(self.lessons[k].len())]
    }
}

fn by_folder(lessons: &Lessons) -> Folders {
    let mut of: Vec<Vec<u32>> = Vec::new();
    for (i, folder) in lessons.folder.iter().enumerate() {
        of.resize(of.len().max(folder + 1), Vec::new());
        of[*folder].push(i as u32);
    }
    let mut sum = 0;
    let upto = of.iter().map(|l| {
        sum += ((l.len() as f64).sqrt() * 1000.0) as usize;
        sum
    });
    Folders {
        upto: upto.collect(),
        lessons: of,
    }
}

/// Log odds of the outcomes as they are drawn.
fn starts<const K: usize>(lessons: &Lessons, folders: &Folders) -> [f64; K] {
    let mut sums = [1e-3; K];
    let mut all = 1e-3 * K as f64;
    for of in folders.lessons.iter().filter(|l| !l.is_empty()) {
        let weight = 1.0 / (of.len() as f64).sqrt();
        for i in of {
            let outcome = lessons.outcome[*i as usize];
            all += weight;
            match K {
                1 => sums[0] += weight * outcome as f64,
                _ => sums[outcome] += weight,
            }
        }
    }
    match K {
        1 => sums.map(|s| (s / (all - s)).ln()),
        _ => sums.map(|s| (s / all).ln()),
    }
}

fn shares<const K: usize>(odds: &[f64; K]) -> [f64; K] {
    if K == 1 {
        return odds.map(|o| 1.0 / (1.0 + (-o).exp()));
    }
    let most = odds.iter().copied().fold(f64::MIN, f64::max);
    let each = odds.map(|o| (o - most).exp());
    let all: f64 = each.iter().sum();
    each.map(|e| e / all)
}

fn steps_of(lessons: &Lessons, folders: &Folders, dice: &mut Dice) -> Steps {
    let some: Vec<u32> = (0..20_000).map(|_| folders.draw(dice)).collect();
    let figures = lessons.looks.first().map_or(0, |l| l.len());
    let limits: Vec<Vec<f32>> = (0..figures)
        .map(|f| {
            let mut values: Vec<f32> = some.iter().map(|i| lessons.looks[*i as usize][f]).collect();
            values.sort_by(f32::total_cmp);
            let mut limits: Vec<f32> = (1..STEPS)
                .map(|k| values[k * values.len() / STEPS])
                .collect();
            limits.dedup();
            limits
        })
        .collect();
    let of = limits
        .iter()
        .enumerate()
        .map(|(f, limits)| {
            let step = |l: &&[f32]| limits.partition_point(|limit| *limit < l[f]) as u8;
            lessons.looks.iter().map(step).collect()
        })
        .collect();
    Steps { limits, of }
}

/// A tree as grown: splits by figure and step, and what leaves add.
struct Tree {
    nodes: Vec<Grown>,
}

#[derive(Clone, Copy)]
enum Grown {
    Split {
        figure: usize,
        step: u8,
        below: usize,
    },
    Leaf(f64),
}

impl Tree {
    fn at(&self, steps: &Steps, lesson: usize) -> f64 {
        let mut at = 0;
        loop {
            match self.nodes[at] {
                Grown::Leaf(adds) => return adds,
                Grown::Split {
                    figure,
                    step,
                    below,
                } => at = below + usize::from(steps.of[figure][lesson] > step),
            }
        }
    }

    fn nodes(&self, steps: &Steps) -> Vec<Node<2>> {
        let node = |n: &Grown| match *n {
            Grown::Leaf(adds) => adding(adds),
            Grown::Split {
                figure,
                step,
                below,
            } => Node::Split {
                figure: figure as u8,
                limit: steps.limits[figure][usize::from(step)],
                below: below as u16,
            },
        };
        self.nodes.iter().map(node).collect()
    }
}

/// A leaf that may still be split.
struct Open {
    at: usize,
    /// Splits above it.
    deep: usize,
    rows: Vec<u32>,
    best: Option<(f64, usize, u8)>,
}

/// Grows one tree, the split that gains most first.
fn tree(steps: &Steps, drawn: &[u32], slopes: &[Sum], how: Boost, dice: &mut Dice) -> Tree {
    let all = steps.limits.len();
    let wanted = ((how.figures * all as f64) as usize).max(1);
    let mut figures: Vec<usize> = (0..all).collect();
    for k in 0..wanted {
        let other = k + dice.below(all - k);
        figures.swap(k, other);
    }
    figures.truncate(wanted);
    let leaf = |rows: &[u32]| {
        let mut sum = Sum::default();
        rows.iter().for_each(|r| sum.add(&slopes[*r as usize]));
        Grown::Leaf((how.rate * sum.first / (sum.second + RIDGE)).clamp(-MOST, MOST))
    };
    let open = |at, deep, rows: Vec<u32>| Open {
        best: (deep < how.deep)
            .then(|| best(steps, drawn, slopes, &figures, &rows, how.leaf as u32))
            .flatten(),
        at,
        deep,
        rows,
    };
    let rows: Vec<u32> = (0..drawn.len() as u32).collect();
    let mut nodes = vec![leaf(&rows)];
    let mut leaves = vec![open(0, 0, rows)];
    for _ in 1..how.leaves {
        let most = leaves
            .iter()
            .enumerate()
            .filter_map(|(i, l)| Some((i, l.best?)))
            .max_by(|a, b| a.1.0.total_cmp(&b.1.0));
        let Some((i, (_, figure, step))) = most else {
            break;
        };
        let Open { at, deep, rows, .. } = leaves.swap_remove(i);
        let below = nodes.len();
        nodes[at] = Grown::Split {
            figure,
            step,
            below,
        };
        let (left, right): (Vec<u32>, Vec<u32>) = rows
            .iter()
            .partition(|r| steps.of[figure][drawn[**r as usize] as usize] <= step);
        nodes.extend([leaf(&left), leaf(&right)]);
        leaves.push(open(below, deep + 1, left));
        leaves.push(open(below + 1, deep + 1, right));
    }
    Tree { nodes }
}

/// The split that gains most: its gain, figure, and last step of the lower side.
fn best(
    steps: &Steps,
    drawn: &[u32],
    slopes: &[Sum],
    figures: &[usize],
    rows: &[u32],
    least: u32,
) -> Option<(f64, usize, u8)> {
    let mut best: Option<(f64, usize, u8)> = None;
    for figure in figures {
        let of = &steps.of[*figure];
        let mut bins = [Sum::default(); STEPS];
        for r in rows {
            bins[usize::from(of[drawn[*r as usize] as usize])].add(&slopes[*r as usize]);
        }
        let mut whole = Sum::default();
        bins.iter().for_each(|b| whole.add(b));
        let mut low = Sum::default();
        for (step, bin) in bins.iter().enumerate().take(steps.limits[*figure].len()) {
            low.add(bin);
            let high = whole.less(&low);
            if low.count < least || high.count < least {
                continue;
            }
            let gain = low.worth() + high.worth() - whole.worth();
            if gain > 1e-6 && best.is_none_or(|b| gain > b.0) {
                best = Some((gain, *figure, step as u8));
            }
        }
    }
    best
}
