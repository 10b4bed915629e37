//! A forest of decision trees that tells the classes, and what is no particle,
//! by a piece's looks. Grown by `examples/fit_classes.rs`.

use super::looks::COUNT;

/// Outcomes: no particle, then the classes in the order of `DebrisClass::ALL`.
pub(crate) const OUTCOMES: usize = 10;

/// One node: a split, or a leaf with its outcomes' shares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Node {
    /// Goes on at `below` when the figure is at most `limit`, else at `below + 1`.
    Split {
        /// Index of the figure.
        figure: u8,
        /// Largest value that goes to `below`.
        limit: f32,
        /// Index of the first child in the tree.
        below: u16,
    },
    /// Shares of the outcomes, of 255.
    Leaf([u8; OUTCOMES]),
}

/// The trees.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Forest {
    /// Each tree's nodes, root first.
    pub trees: Vec<Vec<Node>>,
}

impl Forest {
    /// The forest that ships.
    pub(crate) fn built_in() -> Forest {
        Forest::from_bytes(include_bytes!("forest.bin"))
    }

    /// Mean shares of the outcomes.
    pub(crate) fn judge(&self, looks: &[f32; COUNT]) -> [f64; OUTCOMES] {
        let mut sum = [0.0; OUTCOMES];
        for tree in &self.trees {
            let mut at = 0;
            while let Some(Node::Split {
                figure,
                limit,
                below,
            }) = tree.get(at)
            {
                let right = looks.get(usize::from(*figure)).is_some_and(|v| v > limit);
                at = usize::from(*below) + usize::from(right);
            }
            if let Some(Node::Leaf(shares)) = tree.get(at) {
                for (s, v) in sum.iter_mut().zip(shares) {
                    *s += f64::from(*v);
                }
            }
        }
        let total = sum.iter().sum::<f64>().max(1e-9);
        sum.map(|s| s / total)
    }

    /// Reads the form that [`Forest::to_bytes`] writes; what is cut off is left out.
    pub fn from_bytes(bytes: &[u8]) -> Forest {
        let mut rest = bytes;
        let mut take = |n: usize| -> Option<&[u8]> {
            let (head, tail) = rest.split_at_checked(n)?;
            rest = tail;
            Some(head)
        };
        let mut trees = Vec::new();
        while let Some(&[low, high]) = take(2) {
            let mut tree = Vec::new();
            for _ in 0..u16::from_le_bytes([low, high]) {
                match take(1) {
                    Some([255]) => {
                        let Some(shares) = take(OUTCOMES) else { break };
                        let mut leaf = [0; OUTCOMES];
                        leaf.copy_from_slice(shares);
                        tree.push(Node::Leaf(leaf));
                    }
                    Some(&[figure]) => {
                        let Some(&[a, b, c, d, e, f]) = take(6) else {
                            break;
                        };
                        // Children lie behind their parent, so that a walk always ends.
                        let below = u16::from_le_bytes([e, f]).max(tree.len() as u16 + 1);
                        tree.push(Node::Split {
                            figure,
                            limit: f32::from_le_bytes([a, b, c, d]),
                            below,
                        });
                    }
                    _ => break,
                }
            }
            trees.push(tree);
        }
        Forest { trees }
    }

    /// Two bytes of node count a tree; a split is figure, limit, child; a leaf 255 and its shares.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = Vec::new();
        for tree in &self.trees {
            out.extend((tree.len() as u16).to_le_bytes());
            for node in tree {
                match node {
                    Node::Split {
                        figure,
                        limit,
                        below,
                    } => {
                        out.push(*figure);
                        out.extend(limit.to_le_bytes());
                        out.extend(below.to_le_bytes());
                    }
                    Node::Leaf(shares) => {
                        out.push(255);
                        out.extend(shares);
                    }
                }
            }
        }
        out
    }
}
