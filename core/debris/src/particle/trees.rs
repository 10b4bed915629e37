//! Forests of decision trees over a row of figures. Grown by `examples/fit_classes`.

/// One node: a split, or a leaf with what is told there, each of 255.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Node<const N: usize> {
    /// Goes on at `below` when the figure is at most `limit`, else at `below + 1`.
    Split {
        /// Index of the figure.
        figure: u8,
        /// Largest value that goes to `below`.
        limit: f32,
        /// Index of the first child in the tree.
        below: u16,
    },
    /// What is told.
    Leaf([u8; N]),
}

/// Decision trees, which tell the mean over their leaves.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Trees<const N: usize> {
    /// Each tree's nodes, root first.
    pub trees: Vec<Vec<Node<N>>>,
}

/// What one tree tells.
pub(crate) fn told<const N: usize>(tree: &[Node<N>], looks: &[f32]) -> Option<[u8; N]> {
    let mut at = 0;
    loop {
        match tree.get(at)? {
            Node::Leaf(told) => return Some(*told),
            Node::Split {
                figure,
                limit,
                below,
            } => {
                let right = looks.get(usize::from(*figure)).is_some_and(|v| v > limit);
                at = usize::from(*below) + usize::from(right);
            }
        }
    }
}

impl<const N: usize> Trees<N> {
    /// What the trees tell in the mean, each of 255.
    pub(crate) fn judge(&self, looks: &[f32]) -> [f32; N] {
        let mut sum = [0.0; N];
        for tree in &self.trees {
            for (s, v) in sum.iter_mut().zip(told(tree, looks).unwrap_or([0; N])) {
                *s += f32::from(v);
            }
        }
        sum.map(|s| s / self.trees.len().max(1) as f32)
    }

    /// Reads the form that [`Trees::to_bytes`] writes; what is cut off is left out.
    pub fn from_bytes(bytes: &[u8]) -> Trees<N> {
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
                        let Some(told) = take(N).and_then(|t| t.try_into().ok()) else {
                            break;
                        };
                        tree.push(Node::Leaf(told));
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
        Trees { trees }
    }

    /// Two bytes of node count a tree; a split is figure, limit, child; a leaf 255 and what it tells.
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
                    Node::Leaf(told) => {
                        out.push(255);
                        out.extend(told);
                    }
                }
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn written_read_and_judged() {
        let split = Node::Split {
            figure: 3,
            limit: 0.5,
            below: 1,
        };
        let forest = Trees {
            trees: vec![vec![split, Node::Leaf([0, 9]), Node::Leaf([255, 9])]; 2],
        };
        let again = Trees::from_bytes(&forest.to_bytes());
        assert_eq!(again, forest);
        let mut looks = [0.0; 5];
        assert_eq!(again.judge(&looks), [0.0, 9.0]);
        looks[3] = 0.7;
        assert_eq!(again.judge(&looks), [255.0, 9.0]);
        // Cut anywhere, it is read without harm.
        let bytes = forest.to_bytes();
        for n in 0..bytes.len() {
            Trees::<2>::from_bytes(&bytes[..n]).judge(&looks);
        }
    }
}
