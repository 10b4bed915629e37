//! What lies around a proposal, as the network sees it: where much looks like a piece, each is less likely one. For the
//! trees that judge the proposals.

use super::look::PIECE_UNIT;
use super::sighting::{CLASSES, Proposal, Sighting};

/// How far around a proposal's box the cells are looked at, mm.
const RING_MM: f64 = 1.5;
/// Side of the tiles in which neighbours are counted, mm: those in the proposal's own and in the eight around it.
const TILE_MM: f64 = 4.0;

/// What lies around a proposal.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Around {
    /// Mean log odds of the cells around it that are not its own.
    ring: f32,
    /// Other proposals near it, and the mean of their mean log odds.
    near: u32,
    near_mean: f32,
}

/// Figures of a proposal: how likely it is and of which class by the network, and what lies around it.
pub(crate) const FIGURES: usize = 4 + CLASSES + 3;

impl Sighting {
    /// Looks around each proposal, in the plane of log odds.
    pub(super) fn look_around(&mut self, piece: &[i16], cells_per_mm: f64) {
        let ring = (RING_MM * cells_per_mm).ceil() as usize;
        let tile = (TILE_MM * cells_per_mm).max(1.0);
        let tiles = [self.width, self.height()].map(|v| (v as f64 / tile) as usize + 3);
        let mut counts = vec![(0u32, 0f32); tiles[0] * tiles[1]];
        // The place of a proposal's tile, one tile in from the border.
        let tile_of = |p: &Proposal| {
            let at = |a: u32, b: u32| (f64::from(a + b) / 2.0 / tile) as usize + 1;
            at(p.component.y0, p.component.y1) * tiles[0] + at(p.component.x0, p.component.x1)
        };
        for p in &self.proposals {
            let (count, sum) = &mut counts[tile_of(p)];
            *count += 1;
            *sum += p.told.mean;
        }
        let (width, height) = (self.width, self.height());
        let around: Vec<Around> = self
            .proposals
            .iter()
            .map(|p| {
                let middle = tile_of(p);
                let (mut near, mut sum) = (0, 0.0);
                for row in [middle - tiles[0], middle, middle + tiles[0]] {
                    for (count, means) in &counts[row - 1..row + 2] {
                        near += count;
                        sum += means;
                    }
                }
                near -= 1;
                let c = &p.component;
                let (x0, x1) = (
                    (c.x0 as usize).saturating_sub(ring),
                    (c.x1 as usize + ring).min(width),
                );
                let (mut odds, mut cells) = (0i64, 0i64);
                for y in (c.y0 as usize).saturating_sub(ring)..(c.y1 as usize + ring).min(height) {
                    let line = y * width + x0..y * width + x1;
                    for (v, owner) in piece[line.clone()].iter().zip(&self.owner[line]) {
                        if *owner != p.owner && *v != i16::MIN {
                            odds += i64::from(*v);
                            cells += 1;
                        }
                    }
                }
                Around {
                    ring: mean_of(odds, cells),
                    near,
                    near_mean: if near > 0 {
                        (sum - p.told.mean) / near as f32
                    } else {
                        p.told.mean
                    },
                }
            })
            .collect();
        for (p, around) in self.proposals.iter_mut().zip(around) {
            p.around = around;
        }
    }

    /// The figures of a proposal.
    pub(crate) fn figures(&self, p: &Proposal) -> [f32; FIGURES] {
        let (told, around) = (&p.told, &p.around);
        let own = [told.mean, told.peak, told.inner, told.sure];
        let others = [
            around.ring,
            (1.0 + around.near as f32).ln(),
            around.near_mean,
        ];
        let mut all = own.iter().chain(&told.classes).chain(&others);
        std::array::from_fn(|_| all.next().copied().unwrap_or(0.0))
    }
}

fn mean_of(odds: i64, cells: i64) -> f32 {
    odds as f32 / cells.max(1) as f32 / PIECE_UNIT
}

#[cfg(test)]
mod tests {
    use super::super::sighting::Told;
    use super::*;
    use crate::find::label::Component;

    /// Cells of half a millimetre: two proposals near each other and one far off, on ground of log odds -4 but for a
    /// stripe that is hidden.
    #[test]
    fn around_a_proposal_but_not_its_own() {
        let (width, height) = (100, 20);
        let mut piece = vec![-4 * PIECE_UNIT as i16; width * height];
        let mut owner = vec![0; width * height];
        let proposals =
            [(2u32, 1u32, 1.0f32), (6, 2, 3.0), (90, 3, 5.0)].map(|(x, owner_of, mean)| {
                for y in 8..10 {
                    for x in x as usize..x as usize + 2 {
                        owner[y * width + x] = owner_of;
                        piece[y * width + x] = (mean * PIECE_UNIT) as i16;
                    }
                }
                Proposal {
                    component: Component {
                        runs: Vec::new(),
                        area: 4,
                        x0: x,
                        y0: 8,
                        x1: x + 2,
                        y1: 10,
                    },
                    owner: owner_of,
                    told: Told {
                        mean,
                        peak: mean,
                        inner: 0.0,
                        sure: 1.0,
                        clear: false,
                        classes: [0.0; CLASSES],
                    },
                    around: Around::default(),
                }
            });
        piece[12 * width..13 * width].fill(i16::MIN);
        let mut all = Sighting {
            width,
            ratio: 1.0,
            owner,
            proposals: proposals.to_vec(),
            left_out: 0,
            unusual: None,
        };
        all.look_around(&piece, 2.0);
        let [first, second, far] = [0, 1, 2].map(|k| all.figures(&all.proposals[k]));
        let at = 4 + CLASSES;
        // Three cells around 2 x 2: columns 0 to 6 of the rows 5 to 12, without the hidden one. Of these 49 cells 4 are its
        // own and 2 the other's.
        assert!(
            (first[at] - (43.0 * -4.0 + 2.0 * 3.0) / 45.0).abs() < 1e-3,
            "{}",
            first[at]
        );
        assert_eq!((first[at + 1], first[at + 2]), (2f32.ln(), 3.0));
        assert_eq!((second[at + 1], second[at + 2]), (2f32.ln(), 1.0));
        // None near: its own mean.
        assert_eq!((far[at], far[at + 1], far[at + 2]), (-4.0, 0.0, 5.0));
        assert_eq!(far[..4], [5.0, 5.0, 0.0, 1.0]);
    }
}
