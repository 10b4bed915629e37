//! Pieces by size and by kind: those that the score counts, and no others.

use std::collections::BTreeMap;

use swarfbook_job::census::DebrisClass;
use swarfbook_job::fold::PhotoState;
use swarfbook_job::garwood::whole_interval;
use swarfbook_judge::corrected::Piece;
use swarfbook_report::content::{ClassPieces, KindSaid, SizeBar};

use super::figures::{Figures, fixed};
use super::photos::{size, sized};
use crate::present;
use crate::problem::Problem;

/// Pieces as two tables tell them.
#[derive(Default)]
pub(super) struct Pieces {
    pub sizes: Vec<SizeBar>,
    pub kinds: Vec<KindSaid>,
    /// In `kinds` but in none of `sizes`.
    pub unsized_pieces: u32,
}

pub(super) fn pieces(figures: &Figures<'_>) -> Result<Pieces, Problem> {
    let counted = figures
        .judged
        .counted_pieces(figures.state, figures.loaded.beside())?;
    let counted: Vec<(&PhotoState, Piece)> = counted
        .into_iter()
        .filter(|(_, piece)| piece.class.counts())
        .collect();
    let with_size: Vec<&Piece> = counted
        .iter()
        .filter(|(photo, _)| sized(photo))
        .map(|(_, piece)| piece)
        .collect();
    let smallest_mm = smallest_seen(&counted);
    Ok(Pieces {
        sizes: sizes(&with_size, smallest_mm)?,
        kinds: kinds(&counted, smallest_mm)?,
        unsized_pieces: count(counted.len() - with_size.len()),
    })
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// The least that all of these photos can show, mm.
fn smallest_seen(counted: &[(&PhotoState, Piece)]) -> f64 {
    counted
        .iter()
        .filter_map(|(photo, _)| photo.census.as_ref()?.smallest_mm)
        .fold(0.0, f64::max)
}

fn sizes(pieces: &[&Piece], smallest_mm: f64) -> Result<Vec<SizeBar>, Problem> {
    present::histogram(pieces, smallest_mm)
        .into_iter()
        .map(|bar| {
            let (lo, hi) = whole_interval(bar.n);
            Ok(SizeBar {
                below_seen: bar.below_seen,
                size: bar.size,
                label: bar.label,
                n: bar.n,
                lo: fixed(lo.into())?,
                hi: fixed(hi.into())?,
                by_class: bar
                    .by_class
                    .iter()
                    .map(|c| ClassPieces {
                        class: c.class,
                        n: c.n,
                    })
                    .collect(),
            })
        })
        .collect()
}

fn kinds(counted: &[(&PhotoState, Piece)], smallest_mm: f64) -> Result<Vec<KindSaid>, Problem> {
    let mut by_class: BTreeMap<DebrisClass, Vec<&(&PhotoState, Piece)>> = BTreeMap::new();
    for piece in counted {
        by_class.entry(piece.1.class).or_default().push(piece);
    }
    by_class
        .into_iter()
        .map(|(class, pieces)| {
            let n = count(pieces.len());
            let (lo, hi) = whole_interval(n);
            let largest = pieces
                .iter()
                .filter(|(photo, _)| sized(photo))
                .max_by(|(_, a), (_, b)| a.machine.feret_max_mm.total_cmp(&b.machine.feret_max_mm));
            Ok(KindSaid {
                class,
                n,
                lo: fixed(lo.into())?,
                hi: fixed(hi.into())?,
                largest: largest.map(|(_, piece)| size(piece)).transpose()?,
                photo: largest.map(|(photo, _)| photo.stamp.entry),
                below_seen: largest.is_some_and(|(_, piece)| {
                    present::below_seen(piece.machine.iso16232, smallest_mm)
                }),
            })
        })
        .collect()
}
