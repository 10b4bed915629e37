//! Which pieces count, and as what.
//!
//! Pieces of photos of one kind add, and so do their areas. Pan and patch show
//! the same residue in two places: of each class and size the greater counts.
//! What stands in the magnets is other debris and is added. A piece that a named
//! part stands for does not count beside it.

use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::census::{DebrisClass, PhotoKind};

use crate::exposure::Exposure;
use crate::table::{Group, HazardTable};
use crate::{Evidence, LengthMm, Observation, ParticleSeen, PieceAt, SteelFeel};

/// Which end of a piece's size is reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    Best,
    Lo,
    Hi,
}

/// The weight of one kind of piece: a row of the table, as flakes or as grains.
#[derive(Clone, Copy)]
pub(crate) struct Weight<'a> {
    pub class: DebrisClass,
    pub from_mm: f64,
    pub to_mm: Option<f64>,
    /// Steel that the finger feels as grains.
    pub grains: bool,
    pub k: f64,
    free: f64,
    free_counts: f64,
    cap: Option<f64>,
    pub group: Option<Group>,
    pub provenance: &'a str,
}

/// The pieces of one weight that count.
pub(crate) struct Cell<'a> {
    pub weight: Weight<'a>,
    pub n: u32,
    pub hazard: f64,
    pub sources: BTreeSet<&'a str>,
    /// Each piece with the exposure its weight is divided by.
    pub pieces: Vec<(&'a ParticleSeen, f64)>,
}

impl Cell<'_> {
    /// Which pieces of which photos they are, as far as the caller said.
    pub fn at(&self) -> Vec<PieceAt> {
        let mut at: Vec<PieceAt> = self
            .pieces
            .iter()
            .filter_map(|(piece, _)| piece.at.clone())
            .collect();
        at.sort();
        at
    }
}

/// What decides how pieces weigh, beside the pieces.
pub(crate) struct Weighing<'a> {
    pub evidence: &'a Evidence,
    pub exposure: &'a Exposure,
    pub table: &'a HazardTable,
    /// Pieces (photo, piece) that a named part stands for.
    pub taken: &'a BTreeSet<(usize, usize)>,
}

impl<'a> Weighing<'a> {
    /// The weight of a piece of a class and size as it looks, whatever the finger felt; `None` for lint.
    pub fn weight_seen(&self, class: DebrisClass, mm: f64) -> Option<Weight<'a>> {
        let row = self.table.debris_row(class, mm)?;
        Some(Weight {
            class,
            from_mm: row.from_mm,
            to_mm: self.table.upper_mm(row),
            grains: false,
            k: row.k,
            free: row.free,
            free_counts: row.free_counts,
            cap: row.cap,
            group: row.group,
            provenance: &row.provenance,
        })
    }

    /// The weight of a piece as one class; `None` for lint.
    pub fn weight(&self, piece: &ParticleSeen, class: DebrisClass, mm: f64) -> Option<Weight<'a>> {
        let seen = self.weight_seen(class, mm)?;
        if class != DebrisClass::SteelFlake || !self.is_grain(piece) {
            return Some(seen);
        }
        let (grain, to_mm) = self.table.grain_row(mm)?;
        Some(Weight {
            grains: true,
            from_mm: grain.from_mm,
            to_mm,
            k: grain.k,
            provenance: &self.table.grain.provenance,
            ..seen
        })
    }

    fn is_grain(&self, piece: &ParticleSeen) -> bool {
        let grains = Observation::Steel {
            feel: SteelFeel::Grains,
        };
        let felt = (self.evidence.observations.iter()).any(|seen| seen.observation == grains);
        // A piece whose shape no photo tells is taken as the finger felt it.
        felt && piece.compact.is_none_or(|c| c >= self.table.grain.compact)
    }

    /// The rows that have pieces, by class and size.
    pub fn cells(&self, size: Size) -> Vec<Cell<'a>> {
        type Key = (DebrisClass, bool, u64);
        let mut found: BTreeMap<Key, BTreeMap<PhotoKind, Cell<'a>>> = BTreeMap::new();
        for (at, photo) in self.evidence.photos.iter().enumerate() {
            if photo.again {
                continue;
            }
            for (piece, particle) in photo.particles.iter().enumerate() {
                if self.taken.contains(&(at, piece)) {
                    continue;
                }
                let mm = size_mm(particle, self.table, size);
                let Some(weight) = self.weight(particle, particle.class, mm) else {
                    continue;
                };
                // Sizes are not negative, so their bits sort as they do.
                let cell = found
                    .entry((weight.class, weight.grains, weight.from_mm.to_bits()))
                    .or_default()
                    .entry(photo.kind)
                    .or_insert_with(|| Cell {
                        weight,
                        n: 0,
                        hazard: 0.0,
                        sources: BTreeSet::new(),
                        pieces: Vec::new(),
                    });
                cell.n += 1;
                cell.sources.insert(&photo.id);
                let e = self.exposure.area(photo.kind) * self.exposure.distance;
                cell.pieces.push((particle, e));
            }
        }
        let mut cells: Vec<Cell> = found
            .into_values()
            .filter_map(|mut kinds| {
                let pan = kinds.remove(&PhotoKind::Pan);
                let patch = kinds.remove(&PhotoKind::Patch);
                let magnet = kinds.remove(&PhotoKind::Magnet);
                add(greater(pan, patch), magnet)
            })
            .collect();
        let distance = self.exposure.distance;
        for cell in &mut cells {
            let all = uncapped(cell);
            let free = all.min(cell.weight.free / distance);
            let counts = all - free * (1.0 - cell.weight.free_counts);
            let cap = cell.weight.cap.map(|cap| cap / distance);
            cell.hazard = cap.map_or(counts, |cap| counts.min(cap));
        }
        self.excuse_first_opening(&mut cells);
        cells
    }

    /// Takes off what running in and manufacture leave in a pan that was never open.
    fn excuse_first_opening(&self, cells: &mut [Cell]) {
        if !self.evidence.first_opening {
            return;
        }
        let row = &self.table.first_opening;
        let small = |weight: &Weight| is_flake(weight) && weight.from_mm < row.small_mm;
        let swarf = |weight: &Weight| {
            weight.class == DebrisClass::SteelSliver && weight.from_mm < row.swarf_mm
        };
        let distance = self.exposure.distance;
        excuse(cells, small, row.small_free / distance);
        excuse(cells, swarf, row.swarf_free / distance);
    }
}

fn is_flake(weight: &Weight) -> bool {
    weight.class.is_metal_flake() && !weight.grains
}

/// Takes `free` off the cells together, each in its proportion.
fn excuse(cells: &mut [Cell], which: impl Fn(&Weight) -> bool, free: f64) {
    let of = |cell: &&Cell| which(&cell.weight);
    let all: f64 = cells.iter().filter(of).map(|cell| cell.hazard).sum();
    if all <= 0.0 {
        return;
    }
    let left = (all - free).max(0.0) / all;
    for cell in cells.iter_mut().filter(|cell| which(&cell.weight)) {
        cell.hazard *= left;
    }
}

fn uncapped(cell: &Cell) -> f64 {
    // Pieces of one kind share one exposure: n k / e keeps halves equal to the whole.
    let mut by_exposure: BTreeMap<u64, f64> = BTreeMap::new();
    for (_, e) in &cell.pieces {
        *by_exposure.entry(e.to_bits()).or_default() += 1.0;
    }
    by_exposure
        .iter()
        .map(|(e, n)| cell.weight.k * n / f64::from_bits(*e))
        .sum()
}

fn greater<'a>(a: Option<Cell<'a>>, b: Option<Cell<'a>>) -> Option<Cell<'a>> {
    match (a, b) {
        (Some(a), Some(b)) => {
            if uncapped(&a) > uncapped(&b) {
                Some(a)
            } else {
                Some(b)
            }
        }
        (a, b) => a.or(b),
    }
}

fn add<'a>(a: Option<Cell<'a>>, b: Option<Cell<'a>>) -> Option<Cell<'a>> {
    match (a, b) {
        (Some(mut a), Some(b)) => {
            a.n += b.n;
            a.sources.extend(b.sources);
            a.pieces.extend(b.pieces);
            Some(a)
        }
        (a, b) => a.or(b),
    }
}

/// The size of a piece, mm, with the table's guess where no photo tells it.
pub(crate) fn size_mm(particle: &ParticleSeen, table: &HazardTable, size: Size) -> f64 {
    let guess = &table.unsized_piece;
    let length = particle.feret_max.unwrap_or(LengthMm {
        mm: guess.mm,
        lo: guess.lo_mm,
        hi: guess.hi_mm,
    });
    match size {
        Size::Best => length.mm,
        Size::Lo => length.lo,
        Size::Hi => length.hi,
    }
}
