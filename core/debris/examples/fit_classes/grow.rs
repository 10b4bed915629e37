//! Grows a forest that tells a number: each tree on a draw of the lessons, each split the purest of some chance ones.

use crate::dice::Dice;

use swarfbook_debris::fit::{Node, Trees, length_leaf};

/// A node as grown: a split, or the sums over its lessons.
enum Grown {
    Split { figure: u8, limit: f32, below: u16 },
    Leaf(Sums),
}

/// How a forest is grown.
#[derive(Clone, Copy)]
pub struct How {
    pub trees: usize,
    /// Figures tried at a split, and limits tried a figure.
    pub figures: usize,
    pub limits: usize,
    /// Least lessons in a leaf.
    pub leaf: usize,
    /// Lessons that a split is judged by, at most.
    pub judged: usize,
    /// Lessons that a tree is grown on, at most.
    pub drawn: usize,
}

/// What is learned from: figures of each lesson, and the number that is to be told.
pub struct Lessons<'a> {
    pub looks: Vec<&'a [f32]>,
    pub longer: Vec<f64>,
}

/// Count, sum and sum of squares.
type Sums = [f64; 3];

impl Lessons<'_> {
    fn add(&self, sum: &mut Sums, i: usize) {
        let v = self.longer[i];
        *sum = [sum[0] + 1.0, sum[1] + v, sum[2] + v * v];
    }
}

/// What a split is to make as large as can be: then the variance is least.
fn purity(sum: &Sums) -> f64 {
    if sum[0] > 0.0 {
        sum[1] * sum[1] / sum[0]
    } else {
        0.0
    }
}

/// Mean and spread of a number.
pub fn mean(sum: &Sums) -> [u8; 2] {
    let count = sum[0].max(1.0);
    let mean = sum[1] / count;
    length_leaf(mean, (sum[2] / count - mean * mean).max(0.0).sqrt())
}

/// A forest, two trees at a time; the same lessons, the same forest.
pub fn grow<const N: usize>(
    lessons: &Lessons,
    how: How,
    leaf: impl Fn(&Sums) -> [u8; N],
) -> Trees<N> {
    let count = lessons.looks.len();
    let one = |k: usize| {
        let mut dice = Dice::new(k as u64 + 1);
        let drawn: Vec<usize> = (0..count.min(how.drawn))
            .map(|_| dice.below(count))
            .collect();
        let mut tree = vec![Grown::Leaf([0.0; 3])];
        split(lessons, how, drawn, 0, &mut tree, &mut dice);
        tree
    };
    let half = how.trees / 2;
    let all = std::thread::scope(|scope| {
        let first = scope.spawn(|| (0..half).map(one).collect::<Vec<_>>());
        let second: Vec<_> = (half..how.trees).map(one).collect();
        let mut all = first.join().unwrap_or_default();
        all.extend(second);
        all
    });
    let node = |n| match n {
        Grown::Split {
            figure,
            limit,
            below,
        } => Node::Split {
            figure,
            limit,
            below,
        },
        Grown::Leaf(sum) => Node::Leaf(leaf(&sum)),
    };
    Trees {
        trees: all
            .into_iter()
            .map(|t: Vec<Grown>| t.into_iter().map(node).collect())
            .collect(),
    }
}

fn split(
    lessons: &Lessons,
    how: How,
    drawn: Vec<usize>,
    at: usize,
    tree: &mut Vec<Grown>,
    dice: &mut Dice,
) {
    let mut here = [0.0; 3];
    drawn.iter().for_each(|i| lessons.add(&mut here, *i));
    let mut best: Option<(f64, u8, f32)> = None;
    if drawn.len() >= 2 * how.leaf && tree.len() < 60_000 {
        let judged: Vec<usize> = if drawn.len() > how.judged {
            (0..how.judged)
                .map(|_| drawn[dice.below(drawn.len())])
                .collect()
        } else {
            drawn.clone()
        };
        let mut whole = [0.0; 3];
        judged.iter().for_each(|i| lessons.add(&mut whole, *i));
        let least = if judged.len() < drawn.len() {
            1.0
        } else {
            how.leaf as f64
        };
        for _ in 0..how.figures {
            let figure = dice.below(lessons.looks[0].len());
            for _ in 0..how.limits {
                let (a, b) = (
                    judged[dice.below(judged.len())],
                    judged[dice.below(judged.len())],
                );
                let limit = 0.5 * (lessons.looks[a][figure] + lessons.looks[b][figure]);
                let mut left = [0.0; 3];
                for i in &judged {
                    if lessons.looks[*i][figure] <= limit {
                        lessons.add(&mut left, *i);
                    }
                }
                let right: Sums = std::array::from_fn(|k| whole[k] - left[k]);
                let gain = purity(&left) + purity(&right);
                if left[0] >= least && right[0] >= least && best.is_none_or(|b| gain > b.0) {
                    best = Some((gain, figure as u8, limit));
                }
            }
        }
    }
    let parts = best.map(|(_, figure, limit)| {
        let (left, right): (Vec<usize>, Vec<usize>) = drawn
            .iter()
            .partition(|i| lessons.looks[**i][usize::from(figure)] <= limit);
        (figure, limit, left, right)
    });
    let Some((figure, limit, left, right)) = parts.filter(|p| !p.2.is_empty() && !p.3.is_empty())
    else {
        tree[at] = Grown::Leaf(here);
        return;
    };
    let below = tree.len();
    tree[at] = Grown::Split {
        figure,
        limit,
        below: below as u16,
    };
    tree.extend([Grown::Leaf([0.0; 3]), Grown::Leaf([0.0; 3])]);
    drop(drawn);
    split(lessons, how, left, below, tree, dice);
    split(lessons, how, right, below + 1, tree, dice);
}
