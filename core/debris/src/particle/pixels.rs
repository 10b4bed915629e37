//! The trees that judge pixels, laid out so that several places walk down a tree side by side: a walk
//! waits for its next node, and meanwhile the others go on.

use super::boosted::{Boosted, added};
use super::trees::Node;

/// Places that walk together.
const SIDE_BY_SIDE: usize = 8;
/// Trees after which a place is left as no piece's, and the log odds below which it is: most places are
/// such. Of 756,000 places in eight photos that the trees had not seen, seven in ten go at first sight,
/// and of those whose odds would have come above -2 at the end 6 in 10,000.
const GATES: [(usize, f32); 2] = [(16, -3.4), (32, -3.8)];

/// Tells how likely a pixel is a piece's.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PixelTrees {
    trees: Boosted<1>,
    walks: Vec<Walk>,
}

/// One tree, filled up with steps that lead nowhere else until all its leaves are as deep, so that those
/// who walk side by side take as many steps. Each level takes twice the room: trees are grown six deep.
#[derive(Debug, Clone, PartialEq)]
struct Walk {
    levels: u32,
    /// Figure and its limit of each split, the top first, then level by level.
    splits: Vec<(u8, f32)>,
    /// What each leaf adds to the log odds.
    adds: Vec<f32>,
}

impl Walk {
    fn new(tree: &[Node<2>]) -> Walk {
        // Children lie behind their parents.
        let levels = deep(tree, 0);
        let mut walk = Walk {
            levels,
            splits: vec![(0, f32::INFINITY); (1 << levels) - 1],
            adds: vec![0.0; 1 << levels],
        };
        walk.fill(tree, 0, 0, 0);
        walk
    }

    /// Fills in what lies below a node, which has `place` in its level.
    fn fill(&mut self, tree: &[Node<2>], node: usize, level: u32, place: usize) {
        match tree.get(node) {
            Some(Node::Split {
                figure,
                limit,
                below,
            }) => {
                self.splits[(1 << level) - 1 + place] = (*figure, *limit);
                let below = usize::from(*below);
                self.fill(tree, below, level + 1, 2 * place);
                self.fill(tree, below + 1, level + 1, 2 * place + 1);
            }
            Some(Node::Leaf(told)) => {
                let more = self.levels - level;
                self.adds[place << more..(place + 1) << more].fill(added(*told));
            }
            // A child that is not there adds nothing.
            None => {}
        }
    }

    /// What the tree adds for each of the places.
    fn told<const N: usize>(&self, looks: &[[f32; N]; SIDE_BY_SIDE]) -> [f32; SIDE_BY_SIDE] {
        let mut at = [0; SIDE_BY_SIDE];
        for _ in 0..self.levels {
            for (at, looks) in at.iter_mut().zip(looks) {
                let (figure, limit) = self.splits[*at];
                let above = (looks.get(usize::from(figure))).is_some_and(|v| *v > limit);
                *at = 2 * *at + 1 + usize::from(above);
            }
        }
        at.map(|at| self.adds[at - self.splits.len()])
    }
}

/// Splits on the longest way down from a node.
fn deep(tree: &[Node<2>], node: usize) -> u32 {
    match tree.get(node) {
        Some(Node::Split { below, .. }) => {
            let below = usize::from(*below);
            1 + deep(tree, below).max(deep(tree, below + 1))
        }
        _ => 0,
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
        // Those before each gate, and before the end.
        let mut waiting = [Waiting::NONE; GATES.len() + 1];
        for place in places {
            if waiting[0].add(place, 0.0, &looks(place)) {
                self.go_on(&mut waiting, 0, &mut tell);
            }
        }
        for stage in 0..waiting.len() {
            self.go_on(&mut waiting[stage..], stage, &mut tell);
        }
    }

    /// Leads those that wait first through the trees of their stage; who is not told there waits on.
    fn go_on<const N: usize>(
        &self,
        waiting: &mut [Waiting<N>],
        stage: usize,
        tell: &mut impl FnMut(usize, f32),
    ) {
        let Some((here, later)) = waiting.split_first_mut() else {
            return;
        };
        let from = stage.checked_sub(1).map_or(0, |before| GATES[before].0);
        let gate = GATES.get(stage);
        let upto = gate.map_or(self.walks.len(), |(trees, _)| *trees);
        for walk in self.walks.iter().take(upto).skip(from) {
            for (sum, add) in here.sum.iter_mut().zip(walk.told(&here.looks)) {
                *sum += add;
            }
        }
        for k in 0..here.count {
            let (place, sum) = (here.place[k], here.sum[k]);
            match (later.first_mut(), gate) {
                (Some(_), Some((_, sure))) if sum < *sure => tell(place, 0.0),
                (Some(next), _) => {
                    if next.add(place, sum, &here.looks[k]) {
                        self.go_on(later, stage + 1, tell);
                    }
                }
                (None, _) => tell(place, chance(sum)),
            }
        }
        here.count = 0;
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
                // As deep as they are long, and each level takes twice the room.
                proptest::collection::vec((0u8..5, -1f32..1.0, 0u16..4, -3f64..1.0), 1..12), 1..40),
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
                let odds = |trees: usize| -> f32 {
                    let told = |tree: &Vec<_>| super::super::trees::told(tree, looks).map_or(0.0, added);
                    forest.iter().take(trees).map(told).fold(0.0, |sum, add| sum + add)
                };
                match GATES.iter().any(|(trees, sure)| odds(*trees) < *sure) {
                    true => 0.0,
                    false => chance(odds(forest.len())),
                }
            };
            let trees = PixelTrees::new(Boosted::new(forest.clone()));
            let mut told = vec![None; looks.len()];
            trees.judge(0..looks.len(), |at| looks[at], |at, p| told[at] = Some(p));
            let wanted: Vec<_> = looks.iter().map(|one| Some(alone(one))).collect();
            proptest::prop_assert_eq!(told, wanted);
        }
    }
}
