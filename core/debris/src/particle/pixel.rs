//! The forest that tells, pixel by pixel, piece from ground, shadow, stain and glint.
//! Grown by `examples/fit_classes.rs`.

/// Figures of a pixel.
pub(crate) const COUNT: usize = 40;

/// One node, six bytes on disk (eight for a split).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PixelNode {
    /// Goes on at `below` when the figure is at most `limit`, else at `below + 1`.
    Split {
        /// Index of the figure.
        figure: u8,
        /// Largest value that goes to `below`.
        limit: f32,
        /// Index of the first child in the tree.
        below: u16,
    },
    /// Share of pieces' pixels, 0 to 1.
    Leaf(f32),
}

/// The trees.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PixelForest {
    /// Each tree's nodes, root first.
    pub trees: Vec<Vec<PixelNode>>,
}

impl PixelForest {
    /// The forest that ships.
    pub(crate) fn built_in() -> PixelForest {
        PixelForest::from_bytes(include_bytes!("pixels.bin"))
    }

    /// Probability that a pixel is a piece's.
    pub(crate) fn judge(&self, looks: &[f32; COUNT]) -> f32 {
        let mut sum = 0.0;
        for tree in &self.trees {
            let mut at = 0;
            loop {
                match tree.get(at) {
                    Some(PixelNode::Split {
                        figure,
                        limit,
                        below,
                    }) => {
                        let right = looks.get(usize::from(*figure)).is_some_and(|v| v > limit);
                        at = usize::from(*below) + usize::from(right);
                    }
                    Some(PixelNode::Leaf(share)) => {
                        sum += share;
                        break;
                    }
                    None => break,
                }
            }
        }
        sum / self.trees.len().max(1) as f32
    }

    /// Reads the form that [`PixelForest::to_bytes`] writes; what is cut off is left out.
    pub fn from_bytes(bytes: &[u8]) -> PixelForest {
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
                        let Some([share]) = take(1) else { break };
                        tree.push(PixelNode::Leaf(f32::from(*share) / 255.0));
                    }
                    Some(&[figure]) => {
                        let Some(&[a, b, c, d, e, f]) = take(6) else {
                            break;
                        };
                        // Children lie behind their parent, so that a walk always ends.
                        let below = u16::from_le_bytes([e, f]).max(tree.len() as u16 + 1);
                        tree.push(PixelNode::Split {
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
        PixelForest { trees }
    }

    /// Two bytes of node count a tree; a split is figure, limit, child; a leaf 255 and its share.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut out = Vec::new();
        for tree in &self.trees {
            out.extend((tree.len() as u16).to_le_bytes());
            for node in tree {
                match node {
                    PixelNode::Split {
                        figure,
                        limit,
                        below,
                    } => {
                        out.push(*figure);
                        out.extend(limit.to_le_bytes());
                        out.extend(below.to_le_bytes());
                    }
                    PixelNode::Leaf(share) => out.extend([255, (share * 255.0).round() as u8]),
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
        let split = PixelNode::Split {
            figure: 3,
            limit: 0.5,
            below: 1,
        };
        let forest = PixelForest {
            trees: vec![vec![split, PixelNode::Leaf(0.0), PixelNode::Leaf(1.0)]; 2],
        };
        let again = PixelForest::from_bytes(&forest.to_bytes());
        assert_eq!(again, forest);
        let mut looks = [0.0; COUNT];
        assert_eq!(again.judge(&looks), 0.0);
        looks[3] = 0.7;
        assert_eq!(again.judge(&looks), 1.0);
        // Cut anywhere, it is read without harm.
        let bytes = forest.to_bytes();
        for n in 0..bytes.len() {
            PixelForest::from_bytes(&bytes[..n]).judge(&looks);
        }
    }
}
