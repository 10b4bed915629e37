//! From a picture to what may be pieces: the network's planes at its own scale, and the pieces in them.

use pulp::{Arch, NullaryFnOnce};
use swarfbook_job::census::PhotoKind;

use super::around::Around;
use super::finder::Finder;
use super::novelty::Features;
use super::parts::parts;
use super::resample::{Reduced, Tone};
use super::sighting::{CLASSES, Proposal, Sighting, Told};
use crate::find::label::Component;
use crate::find::row_spans;
use crate::picture::Upright;

/// Fewest pixels of the picture a side of a cell: finer cells would tell nothing more.
const LEAST_RATIO: f64 = 0.5;
/// Most cells of a picture: somewhat more than those of a whole pan. Beyond them it is looked at more coarsely, so that
/// time and memory have a bound.
const MOST_CELLS: f64 = 9e6;
/// Longest piece that is looked for, mm.
const LONGEST_MM: f64 = 14.0;
/// What a piece's log odds are multiplied by to be kept in 16 bits, and a class's in 8.
pub(super) const PIECE_UNIT: f32 = 256.0;
const CLASS_UNIT: f32 = 8.0;

/// Adds a row of an output in another unit, cut to what the new numbers can be.
struct Scaled<'a, T> {
    row: &'a [i16],
    by: f32,
    to: fn(f32) -> T,
    out: &'a mut Vec<T>,
}

impl<T> NullaryFnOnce for Scaled<'_, T> {
    type Output = ();

    #[inline(always)]
    fn call(self) {
        let Scaled { row, by, to, out } = self;
        out.extend(row.iter().map(|v| to(f32::from(*v) * by)));
    }
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

impl Finder {
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
            unit: input.std[c] * input.unit,
        });
        let mut reduced = Reduced::new(picture, ratio, self.network.multiple, tone);
        let ([width, height], padded) = (reduced.size, reduced.padded);
        let mut piece = Vec::with_capacity(width * height);
        let mut inner = Vec::with_capacity(width * height);
        let half = [width.div_ceil(2), height.div_ceil(2)];
        let mut class = Vec::with_capacity(half[0] * half[1] * CLASSES);
        let mut names = self.planes.each_ref().map(|p| p.layer.as_str()).to_vec();
        let [piece_unit, inner_unit, class_unit] = self.planes.each_ref().map(|p| p.unit);
        let novelty = self.network.head.novelty.as_ref();
        let form = novelty.and_then(|n| self.network.form_of(&n.layer));
        let (channels, halved) = form.unwrap_or((1, 0));
        let places = [width, height].map(|v| v.div_ceil(1 << halved));
        let mut features = Features::new(channels);
        names.extend(novelty.map(|n| n.layer.as_str()));
        let row_of = |y: usize, row: &mut [i16]| reduced.row(y, row);
        let arch = Arch::new();
        let plane = |row: &[i16], unit: f32, out: &mut Vec<i16>| {
            arch.dispatch(Scaled {
                row: &row[..width],
                by: unit * PIECE_UNIT,
                to: |v| v as i16,
                out,
            });
        };
        self.network
            .run(padded, &names, row_of, |k, y, row| match k {
                0 if y < height => plane(row, piece_unit, &mut piece),
                1 if y < height => plane(row, inner_unit, &mut inner),
                2 if y < half[1] => arch.dispatch(Scaled {
                    row: &row[..half[0] * CLASSES],
                    by: class_unit * CLASS_UNIT,
                    to: |v| v as i8,
                    out: &mut class,
                }),
                3 if y < places[1] => features.add(&row[..places[0] * channels]),
                _ => {}
            });
        if let Some(quad) = view.hidden {
            let quad = quad.map(|p| p.map(|v| v / ratio));
            for covered in row_spans(&quad, width, height) {
                piece[covered].fill(i16::MIN);
            }
        }
        let level = (self.levels.piece * PIECE_UNIT) as i16;
        let longest = (LONGEST_MM * px_per_mm / ratio) as u32;
        let level_inner = (self.levels.inner * PIECE_UNIT) as i16;
        let (owner, all) = parts(&piece, &inner, width, [level, level_inner]);
        let proposals = (1..).zip(all).filter_map(|(owner, component)| {
            let long = (component.x1 - component.x0).max(component.y1 - component.y0);
            let told = self.told(component, owner, [&piece, &inner], width, &class);
            (long <= longest && told.told.peak >= self.levels.peak).then_some(told)
        });
        let mut sighting = Sighting {
            width,
            ratio,
            left_out: 0,
            unusual: novelty.map(|learned| features.unusual(learned)),
            proposals: proposals.collect(),
            owner,
        };
        let told = |component, owner| self.told(component, owner, [&piece, &inner], width, &class);
        sighting.join_within(view.things, view.step, told);
        sighting.keep_clearest([picture.width, picture.height]);
        sighting.look_around(&piece, px_per_mm / ratio);
        sighting
    }

    /// What the planes tell of a component.
    fn told(
        &self,
        component: Component,
        owner: u32,
        [piece, inner]: [&[i16]; 2],
        width: usize,
        class: &[i8],
    ) -> Proposal {
        let (mut peak, mut sum) = (i16::MIN, 0i64);
        let (mut within, mut sure) = (0i64, 0u64);
        let mut logits = [0i64; CLASSES];
        for r in &component.runs {
            for x in r.x0 as usize..r.x1 as usize {
                let v = piece[r.y as usize * width + x];
                peak = peak.max(v);
                sum += i64::from(v);
                within += i64::from(inner[r.y as usize * width + x]);
                sure += u64::from(v > 0);
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
            around: Around::default(),
            told: Told {
                mean: sum as f32 / n / PIECE_UNIT,
                peak: f32::from(peak) / PIECE_UNIT,
                inner: within as f32 / n / PIECE_UNIT,
                sure: sure as f32 / n,
                clear: false,
                classes: mean.map(|v| v - all),
            },
        }
    }
}
