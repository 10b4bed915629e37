//! From a picture to what may be pieces: the network's planes at its own scale, and the pieces in them.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use swarfbook_job::census::{DebrisClass, PhotoKind};

use super::novelty::Features;
use super::parts::{cells as cells_in, parts};
use super::resample::{Reduced, Tone};
use crate::find::label::{Component, Run, push_runs};
use crate::net::{Network, Unusable};
use crate::picture::Upright;

/// Fewest pixels of the picture a side of a cell: finer cells would tell nothing more.
const LEAST_RATIO: f64 = 0.5;
/// Most cells of a picture: twice those of a whole pan by 12 MP. Beyond them it is looked at more coarsely, so
/// that time and memory have a bound.
const MOST_CELLS: f64 = 5e6;
/// Mean log odds that count at least for a large clear thing in which the network saw no piece: the trees alone may
/// find one there, in doubt. Set so that a plain drawn ellipse of 6 mm is found.
const UNSEEN: f32 = -2.5;
/// Longest piece that is looked for, mm.
const LONGEST_MM: f64 = 14.0;
/// Windows of the proposals that are judged, together, of the picture's pixels: time stays in step with the
/// photo, however much of it is damaged. 0.23 was the most of 80 photos that were looked through.
const MOST_JUDGED: f64 = 0.6;
/// What a piece's log odds are multiplied by to be kept in 16 bits, and a class's in 8.
const PIECE_UNIT: f32 = 256.0;
const CLASS_UNIT: f32 = 8.0;

/// Classes that are told.
pub(crate) const CLASSES: usize = DebrisClass::ALL.len();

/// The network with its levels.
#[derive(Debug, Clone)]
pub struct Finder {
    network: Network,
    levels: Levels,
    /// Places of its class output, in the order of `DebrisClass::ALL`.
    order: [usize; CLASSES],
    names: [String; 3],
    cells_per_mm: f64,
    cells_per_mm_pan: f64,
}

/// Log odds at which something counts.
#[derive(Debug, Clone, Copy)]
struct Levels {
    /// A cell is a piece's,
    piece: f32,
    /// a piece's likeliest cell is enough,
    peak: f32,
    /// a cell lies within one piece and no other.
    inner: f32,
}

/// How a picture is to be looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct View<'a> {
    pub(crate) px_per_mm: f64,
    pub(crate) kind: PhotoKind,
    /// Turns colours into those under white light.
    pub(crate) gain: [f64; 3],
    /// Corners of what is left out (the card), px.
    pub(crate) hidden: Option<&'a [[f64; 2]; 4]>,
    /// Large things that stand out clearly, in pixels of `step` of the picture's.
    pub(crate) things: &'a [Component],
    pub(crate) step: usize,
}

/// What the network tells of a picture.
#[derive(Debug, Clone)]
pub(crate) struct Sighting {
    pub(crate) width: usize,
    /// Pixels of the picture a side of a cell.
    pub(crate) ratio: f64,
    /// Which proposal each cell belongs to, from 1; 0 for none.
    owner: Vec<u32>,
    pub(crate) proposals: Vec<Proposal>,
    /// How many were left out since there are too many.
    pub(crate) left_out: usize,
    /// Share of the learned photos that are less unusual.
    pub(crate) unusual: Option<f64>,
}

/// What may be a piece.
#[derive(Debug, Clone)]
pub(crate) struct Proposal {
    /// Its cells.
    pub(crate) component: Component,
    /// Its place among the owners.
    pub(crate) owner: u32,
    /// Log odds of its likeliest cell.
    peak: f32,
    pub(crate) told: Told,
}

/// What the network tells of a proposal.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Told {
    /// Mean log odds that its cells are a piece's.
    pub(crate) mean: f32,
    /// ln of the classes' probabilities, in the order of `DebrisClass::ALL`.
    pub(crate) classes: [f32; CLASSES],
}

impl Finder {
    /// The one that ships.
    pub fn built_in() -> Result<Finder, Unusable> {
        Finder::from_bytes(include_bytes!("finder.net"))
    }

    /// Reads a model file.
    pub fn from_bytes(bytes: &[u8]) -> Result<Finder, Unusable> {
        let network = Network::from_bytes(bytes)?;
        let head = &network.head;
        let lacks = |what: &str| Unusable::Head(format!("it has no {what}"));
        let output = |name: &str| head.outputs.get(name).cloned().ok_or_else(|| lacks(name));
        let level = |name: &str| {
            let share = head.thresholds.get(name).filter(|s| **s > 0.0 && **s < 1.0);
            let share = share.ok_or_else(|| lacks(&format!("threshold {name}")))?;
            Ok((share / (1.0 - share)).ln())
        };
        let place = |class: &DebrisClass| {
            let at = head.labels.iter().position(|l| l == class);
            at.ok_or_else(|| lacks(&format!("class {class:?}")))
        };
        let mut order = [0; CLASSES];
        for (place_of, class) in order.iter_mut().zip(&DebrisClass::ALL) {
            *place_of = place(class)?;
        }
        let names = [output("piece")?, output("inner")?, output("class")?];
        let channels = [1, 1, CLASSES];
        let halved = [0, 0, 1];
        for k in 0..names.len() {
            if network.form_of(&names[k]) != Some((channels[k], halved[k])) {
                return Err(Unusable::Head(format!("{} has another form", names[k])));
            }
        }
        if let Some(novelty) = &head.novelty {
            let channels = network
                .form_of(&novelty.layer)
                .map(|(channels, _)| 2 * channels);
            let fits = [novelty.mean.len(), novelty.std.len()].map(Some) == [channels; 2];
            let rises = novelty.quantiles.is_sorted() && novelty.quantiles.len() > 1;
            if !fits
                || !rises
                || novelty
                    .std
                    .iter()
                    .any(|s| s.partial_cmp(&0.0) != Some(Ordering::Greater))
            {
                return Err(Unusable::Head("its novelty does not fit".to_owned()));
            }
        }
        if network.channels() != 3 || !(head.px_per_mm > 0.1 && head.px_per_mm < 100.0) {
            return Err(lacks("picture of three colours at a scale"));
        }
        Ok(Finder {
            levels: Levels {
                piece: level("piece")?,
                peak: level("peak")?,
                inner: level("inner")?,
            },
            order,
            names,
            cells_per_mm: head.px_per_mm,
            cells_per_mm_pan: head.px_per_mm_pan.unwrap_or(head.px_per_mm),
            network,
        })
    }

    /// Looks at a picture.
    pub(crate) fn look(&self, picture: &Upright, view: &View) -> Sighting {
        let px_per_mm = view.px_per_mm;
        let cells_per_mm = match view.kind {
            PhotoKind::Pan => self.cells_per_mm_pan,
            _ => self.cells_per_mm,
        };
        let coarsest = ((picture.width * picture.height) as f64 / MOST_CELLS).sqrt();
        let ratio = (px_per_mm / cells_per_mm).max(LEAST_RATIO).max(coarsest);
        let input = &self.network.head.input;
        let tone = std::array::from_fn(|c| Tone {
            gain: view.gain[c] as f32,
            mean: input.mean[c],
            std: input.std[c],
        });
        let mut reduced = Reduced::new(picture, ratio, self.network.multiple, tone);
        let ([width, height], padded) = (reduced.size, reduced.padded);
        let mut piece = Vec::with_capacity(width * height);
        let mut inner = Vec::with_capacity(width * height);
        let half = [width.div_ceil(2), height.div_ceil(2)];
        let mut class = Vec::with_capacity(half[0] * half[1] * CLASSES);
        let mut names = self.names.each_ref().map(String::as_str).to_vec();
        let novelty = self.network.head.novelty.as_ref();
        let form = novelty.and_then(|n| self.network.form_of(&n.layer));
        let (channels, halved) = form.unwrap_or((1, 0));
        let places = [width, height].map(|v| v.div_ceil(1 << halved));
        let mut features = Features::new(channels);
        names.extend(novelty.map(|n| n.layer.as_str()));
        let row_of = |y: usize, row: &mut [f32]| reduced.row(y, row);
        self.network
            .run(padded, &names, row_of, |k, y, row| match k {
                0 if y < height => {
                    piece.extend(row[..width].iter().map(|v| (v * PIECE_UNIT) as i16))
                }
                1 if y < height => {
                    inner.extend(row[..width].iter().map(|v| (v * PIECE_UNIT) as i16));
                }
                2 if y < half[1] => {
                    let row = row[..half[0] * CLASSES].iter();
                    class.extend(row.map(|v| (v * CLASS_UNIT) as i8));
                }
                3 if y < places[1] => features.add(&row[..places[0] * channels]),
                _ => {}
            });
        if let Some(quad) = view.hidden {
            let quad = quad.map(|p| p.map(|v| v / ratio));
            hide(&mut piece, width, &quad);
        }
        let level = (self.levels.piece * PIECE_UNIT) as i16;
        let longest = (LONGEST_MM * px_per_mm / ratio) as u32;
        let level_inner = (self.levels.inner * PIECE_UNIT) as i16;
        let (owner, all) = parts(&piece, &inner, width, [level, level_inner]);
        let proposals = (1..).zip(all).filter_map(|(owner, component)| {
            let long = (component.x1 - component.x0).max(component.y1 - component.y0);
            let told = self.told(component, owner, &piece, width, &class);
            (long <= longest && told.peak >= self.levels.peak).then_some(told)
        });
        let mut sighting = Sighting {
            width,
            ratio,
            left_out: 0,
            unusual: novelty.map(|learned| features.unusual(learned)),
            proposals: proposals.collect(),
            owner,
        };
        let told = |component, owner| self.told(component, owner, &piece, width, &class);
        sighting.join_within(view.things, view.step, told);
        sighting.keep_clearest([picture.width, picture.height]);
        sighting
    }

    /// What the planes tell of a component.
    fn told(
        &self,
        component: Component,
        owner: u32,
        piece: &[i16],
        width: usize,
        class: &[i8],
    ) -> Proposal {
        let (mut peak, mut sum) = (i16::MIN, 0i64);
        let mut logits = [0i64; CLASSES];
        for r in &component.runs {
            for x in r.x0 as usize..r.x1 as usize {
                let v = piece[r.y as usize * width + x];
                peak = peak.max(v);
                sum += i64::from(v);
                let place = (r.y as usize / 2 * width.div_ceil(2) + x / 2) * CLASSES;
                for (sum, v) in logits.iter_mut().zip(&class[place..place + CLASSES]) {
                    *sum += i64::from(*v);
                }
            }
        }
        let n = component.area.max(1) as f32;
        let mean = self.order.map(|k| logits[k] as f32 / n / CLASS_UNIT);
        let most = mean.iter().copied().fold(f32::MIN, f32::max);
        let all = mean.iter().map(|v| (v - most).exp()).sum::<f32>().ln() + most;
        Proposal {
            component,
            owner,
            peak: f32::from(peak) / PIECE_UNIT,
            told: Told {
                mean: sum as f32 / n / PIECE_UNIT,
                classes: mean.map(|v| v - all),
            },
        }
    }
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
    /// which there is none: of a large plain piece the network may see no more than the edges. Things are in
    /// pixels of `step` of the picture's; `told` says what the network's planes tell of an owner's cells.
    fn join_within(
        &mut self,
        things: &[Component],
        step: usize,
        told: impl Fn(Component, u32) -> Proposal,
    ) {
        let mut last = self.owner.iter().copied().max().unwrap_or(0);
        for thing in things {
            let mut cells = self.cells_of(thing, step as f64 / self.ratio);
            let covered = cells.iter().filter(|at| self.owner[**at] != 0).count();
            if cells.is_empty() || 3 * covered > 2 * cells.len() {
                continue;
            }
            let owners: BTreeSet<u32> = cells.iter().map(|at| self.owner[*at]).collect();
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
            self.proposals.push(joined);
        }
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
    fn keep_clearest(&mut self, size: [usize; 2]) {
        self.keep_within(size, (MOST_JUDGED * (size[0] * size[1]) as f64) as usize);
    }

    fn keep_within(&mut self, size: [usize; 2], most: usize) {
        let mut order: Vec<usize> = (0..self.proposals.len()).collect();
        order.sort_by(|a, b| self.proposals[*b].peak.total_cmp(&self.proposals[*a].peak));
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
        classes: std::array::from_fn(|k| mean(&|t| t.classes[k])),
    }
}

/// Takes all likelihood from inside a convex quad of cells' places.
fn hide(piece: &mut [i16], width: usize, q: &[[f64; 2]; 4]) {
    for (y, row) in piece.chunks_exact_mut(width).enumerate() {
        let v = y as f64 + 0.5;
        let (mut x0, mut x1) = (f64::INFINITY, f64::NEG_INFINITY);
        for i in 0..4 {
            let (a, b) = (q[i], q[(i + 1) % 4]);
            if (a[1] <= v) != (b[1] <= v) {
                let x = a[0] + (v - a[1]) / (b[1] - a[1]) * (b[0] - a[0]);
                x0 = x0.min(x);
                x1 = x1.max(x);
            }
        }
        if x0 < x1 {
            let clamp = |x: f64| x.clamp(0.0, width as f64) as usize;
            row[clamp(x0)..clamp(x1)].fill(i16::MIN);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_ships_is_whole() {
        let finder = Finder::built_in().unwrap();
        assert!(finder.levels.piece <= finder.levels.peak);
        // Less than the 20,000 multiplications a place of 4 px a mm that a census has time for.
        assert!(
            4.0 * finder.network.work() < 20_000.0,
            "{}",
            finder.network.work()
        );
    }

    #[test]
    fn a_model_that_is_none_is_refused_with_its_reason() {
        let good = include_bytes!("finder.net");
        assert_eq!(Finder::from_bytes(&[]).err(), Some(Unusable::NoModel));
        assert_eq!(
            Finder::from_bytes(&good[..good.len() - 1]).err(),
            Some(Unusable::Damaged)
        );
        // A network of another kind, whole as it is.
        let other = include_bytes!("../../tests/net/tiny.net");
        let said = Finder::from_bytes(other).err().map(|e| e.to_string());
        assert!(said.is_some_and(|said| said.contains("threshold") || said.contains("has no")));
    }

    fn all_of(mean: f32) -> Told {
        Told {
            mean,
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
            peak: *peak,
            told: all_of(0.0),
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
                peak: 0.0,
                told: all_of(-3.0),
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
        // Most of it was seen: what parts it stays.
        let parted: Vec<u32> = seen(10).proposals.iter().map(|p| p.owner).collect();
        assert_eq!(parted, [1, 2, 3]);
    }

    #[test]
    fn what_lies_under_the_card_is_none() {
        let mut piece = vec![9i16; 12];
        hide(
            &mut piece,
            4,
            &[[1.0, 0.0], [3.0, 0.0], [3.0, 2.0], [1.0, 2.0]],
        );
        let low = i16::MIN;
        assert_eq!(piece, [9, low, low, 9, 9, low, low, 9, 9, 9, 9, 9]);
    }
}
