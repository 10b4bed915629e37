//! The trees that judge pixels, laid out so that several places walk down a tree side by side: a walk
//! waits for its next node, and meanwhile the others go on.

use super::boosted::{Boosted, added};
use super::trees::Node;

/// Places that walk together.
const SIDE_BY_SIDE: usize = 8;
/// Trees after which a place that is surely no piece is left, and the log odds that are sure: most
/// places are such, and no later tree turned one of the photos learned from.
const FIRST: usize = 16;
const NEVER: f32 = -5.0;

/// Tells how likely a pixel is a piece's.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PixelTrees {
    trees: Boosted<1>,
    walks: Vec<Walk>,
}

/// A step down: to `below`, or beside it when the figure is above the limit. A leaf leads to itself.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Step {
    limit: f32,
    below: u16,
    figure: u8,
}

/// One tree.
#[derive(Debug, Clone, PartialEq)]
struct Walk {
    steps: Vec<Step>,
    /// What a leaf adds to the log odds; 0 elsewhere.
    adds: Vec<f32>,
    /// Steps after which every walk has ended.
    most: usize,
}

impl Walk {
    fn new(tree: &[Node<2>]) -> Walk {
        // Children that are not there are two leaves at the end that add nothing.
        let last = tree.len() as u16;
        let mut depth = vec![0; tree.len() + 2];
        let leaf = |at: u16| Step {
            limit: f32::INFINITY,
            below: at,
            figure: 0,
        };
        let mut walk = Walk {
            steps: Vec::with_capacity(tree.len() + 2),
            adds: Vec::with_capacity(tree.len() + 2),
            most: 0,
        };
        for (at, node) in tree.iter().enumerate() {
            let (step, add) = match node {
                Node::Leaf(told) => (leaf(at as u16), added(*told)),
                Node::Split {
                    figure,
                    limit,
                    below,
                } => {
                    let below = (*below).min(last);
                    for child in [usize::from(below), usize::from(below) + 1] {
                        depth[child] = depth[child].max(depth[at] + 1);
                        walk.most = walk.most.max(depth[child]);
                    }
                    let (limit, figure) = (*limit, *figure);
                    let step = Step {
                        limit,
                        below,
                        figure,
                    };
                    (step, 0.0)
                }
            };
            walk.steps.push(step);
            walk.adds.push(add);
        }
        for at in [last, last + 1] {
            walk.steps.push(leaf(at));
            walk.adds.push(0.0);
        }
        walk
    }

    /// What the tree adds for each of the places.
    fn told<const N: usize>(&self, looks: &[[f32; N]; SIDE_BY_SIDE]) -> [f32; SIDE_BY_SIDE] {
        let mut at = [0u16; SIDE_BY_SIDE];
        for _ in 0..self.most {
            let before = at;
            for (at, looks) in at.iter_mut().zip(looks) {
                let step = &self.steps[usize::from(*at)];
                let figure = looks.get(usize::from(step.figure));
                *at = step.below + u16::from(figure.is_some_and(|v| *v > step.limit));
            }
            if at == before {
                break;
            }
        }
        at.map(|at| self.adds[usize::from(at)])
    }
}

/// Places that wait to be judged together.
struct Waiting<const N: usize> {
    count: usize,
    place: [usize; SIDE_BY_SIDE],
    sum: [f32; SIDE_BY_SIDE],
    looks: [[f32; N]; SIDE_BY_SIDE],
}

impl<const N: usize> Waiting<N> {
    const NONE: Waiting<N> = Waiting {
        count: 0,
        place: [0; SIDE_BY_SIDE],
        sum: [0.0; SIDE_BY_SIDE],
        looks: [[0.0; N]; SIDE_BY_SIDE],
    };

    /// Adds one; whether there are as many as walk together.
    fn add(&mut self, place: usize, sum: f32, looks: &[f32; N]) -> bool {
        let k = self.count;
        (self.place[k], self.sum[k], self.looks[k]) = (place, sum, *looks);
        self.count += 1;
        self.count == SIDE_BY_SIDE
    }
}

impl PixelTrees {
    /// Of grown trees.
    pub fn new(trees: Boosted<1>) -> PixelTrees {
        let walks = trees.trees().iter().map(|tree| Walk::new(tree)).collect();
        PixelTrees { trees, walks }
    }

    /// Reads the form that [`Boosted::to_bytes`] writes.
    pub fn from_bytes(bytes: &[u8]) -> PixelTrees {
        PixelTrees::new(Boosted::from_bytes(bytes))
    }

    /// The form of [`Boosted::to_bytes`].
    pub fn to_bytes(&self) -> Vec<u8> {
        self.trees.to_bytes()
    }

    /// Tells the probability of each place, by what `looks` gives for it.
    pub(crate) fn judge<const N: usize>(
        &self,
        places: impl Iterator<Item = usize>,
        looks: impl Fn(usize) -> [f32; N],
        mut tell: impl FnMut(usize, f32),
    ) {
        let (mut new, mut likely) = (Waiting::NONE, Waiting::NONE);
        for place in places {
            if new.add(place, 0.0, &looks(place)) {
                self.first(&mut new, &mut likely, &mut tell);
            }
        }
        self.first(&mut new, &mut likely, &mut tell);
        self.rest(&mut likely, &mut tell);
    }

    /// The first trees, after which most places are done with.
    fn first<const N: usize>(
        &self,
        new: &mut Waiting<N>,
        likely: &mut Waiting<N>,
        tell: &mut impl FnMut(usize, f32),
    ) {
        for walk in self.walks.iter().take(FIRST) {
            for (sum, add) in new.sum.iter_mut().zip(walk.told(&new.looks)) {
                *sum += add;
            }
        }
        for k in 0..new.count {
            let (place, sum) = (new.place[k], new.sum[k]);
            if sum < NEVER {
                tell(place, chance(sum));
            } else if likely.add(place, sum, &new.looks[k]) {
                self.rest(likely, tell);
            }
        }
        new.count = 0;
    }

    /// The other trees.
    fn rest<const N: usize>(&self, likely: &mut Waiting<N>, tell: &mut impl FnMut(usize, f32)) {
        for walk in self.walks.iter().skip(FIRST) {
            for (sum, add) in likely.sum.iter_mut().zip(walk.told(&likely.looks)) {
                *sum += if *sum < NEVER { 0.0 } else { add };
            }
        }
        for k in 0..likely.count {
            tell(likely.place[k], chance(likely.sum[k]));
        }
        likely.count = 0;
    }
}

/// The probability of these log odds.
fn chance(log_odds: f32) -> f32 {
    1.0 / (1.0 + (-log_odds).exp())
}

#[cfg(test)]
mod tests {
    use super::super::boosted::adding;
    use super::*;

    fn split(figure: u8, limit: f32, below: u16) -> Node<2> {
        Node::Split {
            figure,
            limit,
            below,
        }
    }

    #[test]
    fn leaves_add_to_odds() {
        // ln 3 for what is above 0.5.
        let tree = vec![split(0, 0.5, 1), adding(0.0), adding(3f64.ln())];
        let trees = PixelTrees::new(Boosted::new(vec![tree]));
        let mut told = Vec::new();
        trees.judge(
            [4, 6].into_iter(),
            |at| [at as f32 / 10.0],
            |at, p| told.push((at, p)),
        );
        assert_eq!(told.len(), 2);
        assert!(told[0].0 == 4 && (told[0].1 - 0.5).abs() < 1e-3);
        assert!(told[1].0 == 6 && (told[1].1 - 0.75).abs() < 1e-3);
    }

    proptest::proptest! {
        /// The same as each place walking alone, in the plain way.
        #[test]
        fn side_by_side_as_alone(
            forest in proptest::collection::vec(
                proptest::collection::vec((0u8..5, -1f32..1.0, 0u16..4, -3f64..1.0), 1..20), 1..40),
            looks in proptest::collection::vec(proptest::array::uniform3(-1f32..1.0), 0..30),
        ) {
            let forest: Vec<Vec<Node<2>>> = forest.iter().map(|tree| {
                let node = |(at, (figure, limit, on, add)): (usize, &(u8, f32, u16, f64))| match on {
                    0 => adding(*add),
                    on => split(*figure, *limit, at as u16 + on),
                };
                tree.iter().enumerate().map(node).collect()
            }).collect();
            let alone = |looks: &[f32; 3]| {
                let mut sum = 0.0;
                for (k, tree) in forest.iter().enumerate() {
                    if k >= FIRST && sum < NEVER {
                        break;
                    }
                    sum += super::super::trees::told(tree, looks).map_or(0.0, added);
                }
                chance(sum)
            };
            let trees = PixelTrees::new(Boosted::new(forest.clone()));
            let mut told = vec![None; looks.len()];
            trees.judge(0..looks.len(), |at| looks[at], |at, p| told[at] = Some(p));
            let wanted: Vec<_> = looks.iter().map(|one| Some(alone(one))).collect();
            proptest::prop_assert_eq!(told, wanted);
        }
    }
}
