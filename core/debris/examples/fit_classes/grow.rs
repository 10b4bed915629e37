//! Grows a forest: each tree on a draw of the lessons, each split the purest of some chance ones.

use crate::dice::Dice;

/// A node as grown: a split, or the shares of the outcomes.
pub enum Grown {
    Split { figure: u8, limit: f32, below: u16 },
    Leaf(Vec<f64>),
}

/// How a forest is grown.
#[derive(Clone, Copy)]
pub struct How {
    pub trees: usize,
    pub outcomes: usize,
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

/// What is learned from: figures and outcome of each lesson.
pub struct Lessons<'a> {
    pub looks: Vec<&'a [f32]>,
    pub outcomes: Vec<usize>,
}

/// Trees, two at a time; the same lessons, the same forest.
pub fn grow(lessons: &Lessons, how: How) -> Vec<Vec<Grown>> {
    let count = lessons.looks.len();
    let one = |k: usize| {
        let mut dice = Dice::new(k as u64 + 1);
        let drawn: Vec<usize> = (0..count.min(how.drawn))
            .map(|_| dice.below(count))
            .collect();
        let mut tree = vec![Grown::Leaf(Vec::new())];
        split(lessons, how, drawn, 0, &mut tree, &mut dice);
        tree
    };
    let half = how.trees / 2;
    std::thread::scope(|scope| {
        let first = scope.spawn(|| (0..half).map(one).collect::<Vec<_>>());
        let second: Vec<_> = (half..how.trees).map(one).collect();
        let mut all = first.join().unwrap_or_default();
        all.extend(second);
        all
    })
}

/// Sum of squares over the sum: what Gini's impurity leaves to be as large as can be.
fn purity(sum: &[f64]) -> f64 {
    let total: f64 = sum.iter().sum();
    if total > 0.0 {
        sum.iter().map(|v| v * v).sum::<f64>() / total
    } else {
        0.0
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
    let mut here = vec![0.0; how.outcomes];
    drawn.iter().for_each(|i| here[lessons.outcomes[*i]] += 1.0);
    let mixed = here.iter().filter(|v| **v > 0.0).count() > 1;
    let mut best: Option<(f64, u8, f32)> = None;
    if mixed && drawn.len() >= 2 * how.leaf && tree.len() < 60_000 {
        let judged: Vec<usize> = if drawn.len() > how.judged {
            (0..how.judged)
                .map(|_| drawn[dice.below(drawn.len())])
                .collect()
        } else {
            drawn.clone()
        };
        let mut whole = vec![0.0; how.outcomes];
        judged
            .iter()
            .for_each(|i| whole[lessons.outcomes[*i]] += 1.0);
        let least = if judged.len() < drawn.len() {
            1.0
        } else {
            how.leaf as f64
        };
        let (mut left, mut right) = (whole.clone(), whole.clone());
        for _ in 0..how.figures {
            let figure = dice.below(lessons.looks[0].len());
            for _ in 0..how.limits {
                let (a, b) = (
                    judged[dice.below(judged.len())],
                    judged[dice.below(judged.len())],
                );
                let limit = 0.5 * (lessons.looks[a][figure] + lessons.looks[b][figure]);
                left.fill(0.0);
                for i in &judged {
                    if lessons.looks[*i][figure] <= limit {
                        left[lessons.outcomes[*i]] += 1.0;
                    }
                }
                right
                    .iter_mut()
                    .zip(&whole)
                    .zip(&left)
                    .for_each(|((r, w), l)| *r = w - l);
                let (l, r) = (left.iter().sum::<f64>(), right.iter().sum::<f64>());
                let gain = purity(&left) + purity(&right);
                if l >= least && r >= least && best.is_none_or(|b| gain > b.0) {
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
        let total: f64 = here.iter().sum::<f64>().max(1e-9);
        tree[at] = Grown::Leaf(here.iter().map(|v| v / total).collect());
        return;
    };
    let below = tree.len();
    tree[at] = Grown::Split {
        figure,
        limit,
        below: below as u16,
    };
    tree.push(Grown::Leaf(Vec::new()));
    tree.push(Grown::Leaf(Vec::new()));
    drop(drawn);
    split(lessons, how, left, below, tree, dice);
    split(lessons, how, right, below + 1, tree, dice);
}
