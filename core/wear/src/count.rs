//! Which pieces count, and as what.
//!
//! Pieces of photos of one kind add, and so do their areas. Pan and patch show
//! the same residue in two places: of each class and size the greater counts.
//! What stands in the magnets is other debris and is added.

use std::collections::{BTreeMap, BTreeSet};

use swarfbook_job::census::{DebrisClass, PhotoKind};

use crate::exposure::Exposure;
use crate::table::{DebrisRow, HazardTable};
use crate::{LengthMm, ParticleSeen, PhotoSeen};

/// Which end of a piece's size is reckoned with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    Best,
    Lo,
    Hi,
}

/// The pieces of one row of the table that count.
pub(crate) struct Cell<'a> {
    pub row: &'a DebrisRow,
    pub n: u32,
    pub hazard: f64,
    pub sources: BTreeSet<&'a str>,
    /// Each piece with the exposure its weight is divided by.
    pub pieces: Vec<(&'a ParticleSeen, f64)>,
}

/// The rows that have pieces, by class and size.
pub(crate) fn cells<'a>(
    photos: &'a [PhotoSeen],
    exposure: &Exposure,
    table: &'a HazardTable,
    size: Size,
) -> Vec<Cell<'a>> {
    let mut found: BTreeMap<(DebrisClass, u64), BTreeMap<PhotoKind, Cell<'a>>> = BTreeMap::new();
    for photo in photos.iter().filter(|photo| !photo.again) {
        for particle in &photo.particles {
            let mm = size_mm(particle, table, size);
            let Some(row) = table.debris_row(particle.class, mm) else {
                continue;
            };
            // Sizes are not negative, so their bits sort as they do.
            let cell = found
                .entry((row.class, row.from_mm.to_bits()))
                .or_default()
                .entry(photo.kind)
                .or_insert_with(|| Cell {
                    row,
                    n: 0,
                    hazard: 0.0,
                    sources: BTreeSet::new(),
                    pieces: Vec::new(),
                });
            cell.n += 1;
            cell.sources.insert(&photo.id);
            cell.pieces
                .push((particle, exposure.area(photo.kind) * exposure.distance));
        }
    }
    found
        .into_values()
        .filter_map(|mut kinds| {
            let pan = kinds.remove(&PhotoKind::Pan);
            let patch = kinds.remove(&PhotoKind::Patch);
            let magnet = kinds.remove(&PhotoKind::Magnet);
            let residue = greater(pan, patch, exposure);
            add(residue, magnet)
        })
        .map(|mut cell| {
            cell.hazard = hazard_of(&cell, exposure);
            cell
        })
        .collect()
}

/// Hazard of a row: its pieces by area, capped, then by distance.
fn hazard_of(cell: &Cell, exposure: &Exposure) -> f64 {
    let by_distance = uncapped(cell);
    match cell.row.cap {
        Some(cap) => by_distance.min(cap / exposure.distance),
        None => by_distance,
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
        .map(|(e, n)| cell.row.k * n / f64::from_bits(*e))
        .sum()
}

fn greater<'a>(a: Option<Cell<'a>>, b: Option<Cell<'a>>, exposure: &Exposure) -> Option<Cell<'a>> {
    match (a, b) {
        (Some(a), Some(b)) => {
            if hazard_of(&a, exposure) > hazard_of(&b, exposure) {
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
