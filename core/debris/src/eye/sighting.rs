//! What the network saw in a picture: proposals of pieces, joined where they lie in one thing and cut to as many
//! as there is time to judge.

use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::census::DebrisClass;

use super::around::Around;
use super::parts::cells as cells_in;
use crate::find::label::{Component, Run, push_runs};
use crate::particle::shape::{hull, polygon_area};

/// Mean log odds that count at least for a large clear thing in which the network saw no piece: the trees alone may
/// find one there, in doubt. Set so that a plain drawn ellipse of 6 mm is found.
const UNSEEN: f32 = -2.5;
/// How many times larger than a splinter the proposal is that it belongs to.
const SPLINTER: usize = 6;
/// Pieces that touch leave a notch between them. A thing that fills this share of its hull, and less than a third of
/// which nobody owns, is one piece, whatever seam is seen in it: plain drawn ellipses of 6 and 3.5 mm fill 0.92 to 0.96,
/// and one of these fell in two halves, another in three parts.
const CONVEX: f64 = 0.9;
/// Below this many cells the hull of a few squares says little.
const LEAST_CONVEX: usize = 150;
/// Windows of the proposals that are judged, together, of the picture's pixels: time stays in step with the
/// photo, however much of it is damaged. 0.23 was the most of 80 photos that were looked through.
const MOST_JUDGED: f64 = 0.6;

/// Classes that are told.
pub(crate) const CLASSES: usize = DebrisClass::LEARNED.len();

/// What the network tells of a picture.
#[derive(Debug, Clone)]
pub(crate) struct Sighting {
    pub(crate) width: usize,
    /// Pixels of the picture a side of a cell.
    pub(crate) ratio: f64,
    /// Which proposal each cell belongs to, from 1; 0 for none.
    pub(super) owner: Vec<u32>,
    pub(crate) proposals: Vec<Proposal>,
    /// How many were left out since there are too many.
    pub(crate) left_out: usize,
    /// Share of the learned photos that are less unusual.
    pub(crate) unusual: Option<f64>,
}

/// What may be a piece.
#[derive(Debug, Clone)]
pub(crate) struct Proposal {
    pub(crate) component: Component,
    /// Its place among the owners.
    pub(crate) owner: u32,
    pub(crate) told: Told,
    pub(super) around: Around,
}

/// What becomes one proposal within a clear thing.
struct Join {
    /// Whose cells; 0 for those that nobody owns.
    owners: BTreeSet<u32>,
    /// See [`Told::clear`].
    clear: bool,
}

/// What the network tells of a proposal.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Told {
    /// Mean log odds that its cells are a piece's.
    pub(crate) mean: f32,
    /// Log odds of its likeliest cell.
    pub(crate) peak: f32,
    /// Mean log odds that its cells lie within one piece and no other.
    pub(crate) inner: f32,
    /// Share of its cells that are rather a piece's than not.
    pub(crate) sure: f32,
    /// Whether it is a clear thing of which the network saw little: what it says of it is no word against it.
    pub(crate) clear: bool,
    /// ln of the classes' probabilities, in the order of `DebrisClass::LEARNED`.
    pub(crate) classes: [f32; CLASSES],
}

impl Sighting {
    /// Rows of cells.
    pub(crate) fn height(&self) -> usize {
        self.owner.len() / self.width
    }

    /// The part of a picture of this size that is looked at for a proposal: left, top, right and bottom, the
    /// last two not included.
    pub(crate) fn window_of(&self, proposal: &Proposal, size: [usize; 2]) -> [usize; 4] {
        let c = &proposal.component;
        let long = f64::from((c.x1 - c.x0).max(c.y1 - c.y0)) * self.ratio;
        let margin = ((long / 4.0) as usize).clamp(10, 24);
        let from = |v: u32, most: usize| {
            ((f64::from(v) * self.ratio) as usize)
                .saturating_sub(margin)
                .min(most - 1)
        };
        let upto =
            |v: u32, most: usize| ((f64::from(v) * self.ratio).ceil() as usize + margin).min(most);
        [
            from(c.x0, size[0]),
            from(c.y0, size[1]),
            upto(c.x1, size[0]),
            upto(c.y1, size[1]),
        ]
    }

    /// Makes one proposal of those that lie in one clear thing and fill less than two thirds of it, and of one in
    /// which there is none: of a large plain piece the network may see no more than the edges. Where one fills more than
    /// half of a thing, the smaller ones in it are its splinters and join it, and what is left of the thing is looked at
    /// with it: it may end where the network saw no more of it. A large convex thing is one piece. Things are in pixels
    /// of `step` of the picture's; `told` says what the network's planes tell of an owner's cells.
    pub(super) fn join_within(
        &mut self,
        things: &[Component],
        step: usize,
        told: impl Fn(Component, u32) -> Proposal,
    ) {
        let mut last = self.owner.iter().copied().max().unwrap_or(0);
        for thing in things {
            let mut cells = self.cells_of(thing, step as f64 / self.ratio);
            let Some(join) = self.join_of(&cells) else {
                continue;
            };
            cells.retain(|at| join.owners.contains(&self.owner[*at]));
            let owners = join.owners;
            let (parts, rest): (Vec<Proposal>, Vec<Proposal>) = std::mem::take(&mut self.proposals)
                .into_iter()
                .partition(|p| owners.contains(&p.owner));
            self.proposals = rest;
            last += 1;
            for part in &parts {
                cells.extend(cells_in(&part.component, self.width));
            }
            for at in &cells {
                self.owner[*at] = last;
            }
            let mut joined = told(self.component_of(&cells, last), last);
            // What it saw of the thing counts; that it saw no more is little against it.
            if parts.is_empty() {
                joined.told.mean = joined.told.mean.max(UNSEEN);
            } else {
                joined.told = mean_of(&parts);
            }
            joined.told.clear = join.clear;
            self.proposals.push(joined);
        }
    }

    /// Whose cells in a thing become one proposal's; none where they stay as they are.
    fn join_of(&self, cells: &[usize]) -> Option<Join> {
        let mut shares: BTreeMap<u32, usize> = BTreeMap::new();
        for at in cells {
            *shares.entry(self.owner[*at]).or_default() += 1;
        }
        let unseen = shares.get(&0).copied().unwrap_or(0);
        if 3 * unseen >= cells.len() {
            let owners = shares.into_keys().collect();
            return (!cells.is_empty()).then_some(Join {
                owners,
                clear: true,
            });
        }
        let several = cells.len() >= LEAST_CONVEX && shares.len() > 2;
        if several && cells.len() as f64 >= CONVEX * self.hull_area(cells) {
            return Some(Join {
                owners: shares.into_keys().collect(),
                clear: false,
            });
        }
        let largest = (shares.iter())
            .filter(|(owner, _)| **owner != 0)
            .map(|(_, n)| *n)
            .max()?;
        shares.retain(|owner, n| *owner == 0 || *n == largest || SPLINTER * *n <= largest);
        (2 * largest > cells.len() && shares.len() > 1).then(|| Join {
            owners: shares.into_keys().collect(),
            clear: false,
        })
    }

    /// Area of the hull of these cells, in cells.
    fn hull_area(&self, cells: &[usize]) -> f64 {
        let corners = cells.iter().flat_map(|at| {
            let (x, y) = ((at % self.width) as f64, (at / self.width) as f64);
            [[x, y], [x + 1.0, y], [x, y + 1.0], [x + 1.0, y + 1.0]]
        });
        polygon_area(&hull(&corners.collect::<Vec<_>>()))
    }

    /// The component of an owner's cells.
    fn component_of(&self, cells: &[usize], owner: u32) -> Component {
        let across = |at: &usize| at % self.width;
        let (x0, x1) = (
            cells.iter().map(across).min().unwrap_or(0),
            cells.iter().map(across).max().unwrap_or(0) + 1,
        );
        let (y0, y1) = (
            cells.iter().min().unwrap_or(&0) / self.width,
            cells.iter().max().unwrap_or(&0) / self.width + 1,
        );
        let mut runs: Vec<Run> = Vec::new();
        for y in y0..y1 {
            let line = &self.owner[y * self.width..][x0..x1];
            let set: Vec<u8> = line.iter().map(|o| u8::from(*o == owner)).collect();
            let from = runs.len();
            push_runs(y as u32, &set, &mut runs);
            for r in &mut runs[from..] {
                (r.x0, r.x1) = (r.x0 + x0 as u32, r.x1 + x0 as u32);
            }
        }
        Component {
            area: runs.iter().map(|r| u64::from(r.x1 - r.x0)).sum(),
            runs,
            x0: x0 as u32,
            y0: y0 as u32,
            x1: x1 as u32,
            y1: y1 as u32,
        }
    }

    /// The cells whose middles lie in a thing, at so many cells a pixel of the thing's.
    fn cells_of(&self, thing: &Component, per: f64) -> Vec<usize> {
        let mut cells = Vec::new();
        let upto = |v: u32, most: usize| ((f64::from(v) * per).ceil() as usize).min(most);
        let mut runs = thing.runs.as_slice();
        for y in (f64::from(thing.y0) * per) as usize..upto(thing.y1, self.height()) {
            let row = ((y as f64 + 0.5) / per) as u32;
            let passed = runs.iter().take_while(|r| r.y < row).count();
            runs = &runs[passed..];
            for r in runs.iter().take_while(|r| r.y == row) {
                let first = (f64::from(r.x0) * per - 0.5).ceil().max(0.0) as usize;
                let end = ((f64::from(r.x1) * per - 0.5).ceil() as usize).min(self.width);
                cells.extend((first..end).map(|x| y * self.width + x));
            }
        }
        cells
    }

    /// Leaves out all but the likeliest, of which as many stay as have windows of [`MOST_JUDGED`] of a picture of
    /// this size together; their order stays.
    pub(super) fn keep_clearest(&mut self, size: [usize; 2]) {
        self.keep_within(size, (MOST_JUDGED * (size[0] * size[1]) as f64) as usize);
    }

    fn keep_within(&mut self, size: [usize; 2], most: usize) {
        let mut order: Vec<usize> = (0..self.proposals.len()).collect();
        order.sort_by(|a, b| {
            self.proposals[*b]
                .told
                .peak
                .total_cmp(&self.proposals[*a].told.peak)
        });
        let mut kept = vec![false; order.len()];
        let mut sum = 0;
        for k in order {
            let [x0, y0, x1, y1] = self.window_of(&self.proposals[k], size);
            sum += (x1 - x0) * (y1 - y0);
            kept[k] = sum <= most;
        }
        self.left_out = kept.iter().filter(|kept| !**kept).count();
        let mut kept = kept.into_iter();
        self.proposals.retain(|_| kept.next().unwrap_or(false));
    }

    /// Whether a cell is `owner`'s.
    pub(crate) fn is(&self, x: usize, y: usize, owner: u32) -> bool {
        self.owner[y * self.width + x] == owner
    }
}

/// What is told of several, by their areas.
fn mean_of(parts: &[Proposal]) -> Told {
    let all: f32 = parts.iter().map(|p| p.component.area as f32).sum();
    let mean = |of: &dyn Fn(&Told) -> f32| {
        let each = parts.iter().map(|p| p.component.area as f32 * of(&p.told));
        each.sum::<f32>() / all
    };
    Told {
        mean: mean(&|t| t.mean),
        peak: parts.iter().map(|p| p.told.peak).fold(f32::MIN, f32::max),
        inner: mean(&|t| t.inner),
        sure: mean(&|t| t.sure),
        clear: false,
        classes: std::array::from_fn(|k| mean(&|t| t.classes[k])),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all_of(mean: f32) -> Told {
        Told {
            mean,
            peak: mean,
            inner: mean,
            sure: 0.0,
            clear: false,
            classes: [0.0; CLASSES],
        }
    }

    fn sighting(sizes: &[(u32, f32)]) -> Sighting {
        let proposal = |(k, (size, peak)): (usize, &(u32, f32))| Proposal {
            component: Component {
                runs: Vec::new(),
                area: 1,
                x0: 0,
                y0: 0,
                x1: *size,
                y1: 1,
            },
            owner: k as u32 + 1,
            told: all_of(*peak),
            around: Around::default(),
        };
        Sighting {
            width: 100,
            ratio: 2.0,
            owner: vec![0; 10_000],
            proposals: sizes.iter().enumerate().map(proposal).collect(),
            left_out: 0,
            unusual: None,
        }
    }

    #[test]
    fn the_clearest_are_kept_in_their_order() {
        let all = sighting(&[(4, 1.0), (4, 9.0), (4, 3.0), (4, 5.0)]);
        // 4 x 1 cells of 2 px, at the picture's corner: 10 px around on two sides.
        let size = [200, 200];
        assert_eq!(all.window_of(&all.proposals[0], size), [0, 0, 18, 12]);
        let kept = |most: usize| {
            let mut some = all.clone();
            some.keep_within(size, most);
            assert_eq!(some.left_out + some.proposals.len(), 4);
            some.proposals.iter().map(|p| p.owner).collect::<Vec<_>>()
        };
        assert_eq!(kept(4 * 18 * 12), [1, 2, 3, 4]);
        assert_eq!(kept(3 * 18 * 12 - 1), [2, 4]);
        assert_eq!(kept(0), [0u32; 0]);
    }

    /// A thing of 8 x 4 pixels, two cells a pixel, of which the network saw both ends.
    #[test]
    fn what_lies_in_one_clear_thing_is_one() {
        let run = |y, x0, x1| Run { y, x0, x1 };
        let boxed = |runs: Vec<Run>, x0, x1, y1| Component {
            area: runs.iter().map(|r| u64::from(r.x1 - r.x0)).sum(),
            runs,
            x0,
            y0: 0,
            x1,
            y1,
        };
        let seen = |filled: u32| {
            let mut all = sighting(&[(1, 1.0), (1, 2.0), (1, 3.0)]);
            for (k, (x0, x1)) in [(0, filled), (14, 16), (50, 52)].into_iter().enumerate() {
                let runs: Vec<Run> = (0..8).map(|y| run(y, x0, x1)).collect();
                all.proposals[k].component = boxed(runs, x0, x1, 8);
                all.proposals[k].told.mean = k as f32;
                for at in cells_in(&all.proposals[k].component, 100) {
                    all.owner[at] = k as u32 + 1;
                }
            }
            let thing = boxed((0..4).map(|y| run(y, 0, 8)).collect(), 0, 8, 4);
            let told = |component, owner| Proposal {
                component,
                owner,
                told: all_of(-3.0),
                around: Around::default(),
            };
            all.join_within(&[thing], 4, told);
            all
        };
        let joined = seen(2);
        let owners: Vec<u32> = joined.proposals.iter().map(|p| p.owner).collect();
        assert_eq!(owners, [3, 4]);
        let one = &joined.proposals[1];
        assert_eq!(
            (one.component.area, one.component.x1, one.told.mean),
            (128, 16, 0.5)
        );
        assert_eq!(joined.owner.iter().filter(|o| **o == 4).count(), 128);
        assert!(one.told.clear && !joined.proposals[0].told.clear);
        // Most of it was seen, and neither is a splinter of the other: what parts it stays, and the larger has the rest.
        let parted = seen(10);
        assert_eq!(
            (parted.proposals.iter())
                .map(|p| (p.owner, p.component.area))
                .collect::<Vec<_>>(),
            [(2, 16), (3, 16), (4, 112)]
        );
        // The one is six times as large as the other, which joins it.
        let whole = seen(12);
        assert_eq!(
            whole.proposals.iter().map(|p| p.owner).collect::<Vec<_>>(),
            [3, 4]
        );
        assert_eq!(whole.proposals[1].component.area, 128);
    }
}
