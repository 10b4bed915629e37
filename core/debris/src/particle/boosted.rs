//! Trees that add up: each corrects what those before it left wrong (gradient boosting). Grown by
//! `examples/fit_classes`.

use super::trees::{Node, Trees, told};

/// What a leaf's whole numbers are parts of: it adds -16 to 16 in steps of 1/2048.
const WHOLE: f32 = 2048.0;

/// Trees whose leaves add to the log odds of `K` outcomes, tree `i` to that of outcome `i % K`; with
/// one outcome, that it is so.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Boosted<const K: usize> {
    trees: Trees<2>,
}

/// A leaf that adds so much.
pub fn adding(log_odds: f64) -> Node<2> {
    let parts = (log_odds as f32 * WHOLE).round();
    Node::Leaf((parts as i16).to_le_bytes())
}

/// What a leaf of [`adding`] adds.
pub(super) fn added(leaf: [u8; 2]) -> f32 {
    f32::from(i16::from_le_bytes(leaf)) / WHOLE
}

impl<const K: usize> Boosted<K> {
    /// Of whole rounds of trees, a tree for each outcome.
    pub fn new(trees: Vec<Vec<Node<2>>>) -> Boosted<K> {
        Boosted {
            trees: Trees { trees },
        }
    }

    /// The trees, round after round.
    pub(super) fn trees(&self) -> &[Vec<Node<2>>] {
        &self.trees.trees
    }

    /// Whether it has not learned.
    pub(crate) fn is_empty(&self) -> bool {
        self.trees.trees.is_empty()
    }

    /// Reads the form that [`Boosted::to_bytes`] writes.
    pub fn from_bytes(bytes: &[u8]) -> Boosted<K> {
        Boosted {
            trees: Trees::from_bytes(bytes),
        }
    }

    /// The form of [`Trees::to_bytes`].
    pub fn to_bytes(&self) -> Vec<u8> {
        self.trees.to_bytes()
    }

    /// The probabilities of the outcomes.
    pub(crate) fn shares(&self, looks: &[f32]) -> [f32; K] {
        let mut sums = [0.0f32; K];
        for round in self.trees.trees.chunks(K) {
            for (sum, tree) in sums.iter_mut().zip(round) {
                *sum += told(tree, looks).map_or(0.0, added);
            }
        }
        let most = sums.iter().copied().fold(f32::MIN, f32::max);
        let odds = sums.map(|s| (s - most).exp());
        let all: f32 = odds.iter().sum();
        odds.map(|o| o / all.max(f32::MIN_POSITIVE))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaves_add_to_odds() {
        // ln 3 for what is above 0.5.
        let split = Node::Split {
            figure: 0,
            limit: 0.5,
            below: 1,
        };
        let tree = vec![split, adding(0.0), adding(3f64.ln())];
        let two = Boosted::<2>::new(vec![tree, vec![adding(0.0)]]);
        assert_eq!(Boosted::from_bytes(&two.to_bytes()), two);
        let [a, b] = two.shares(&[0.6]);
        assert!((a - 0.75).abs() < 1e-3 && (a + b - 1.0).abs() < 1e-6);
    }
}
