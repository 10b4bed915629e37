//! The gravest pieces, each cut out of the photo as it was taken: a copy for reading shows
//! a piece of some millimetres as a dot.

use std::collections::BTreeMap;

use swarfbook_debris::{Upright, copy_within, decode, jpeg_size_px};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::{EntryId, Sha256Hex};
use swarfbook_judge::corrected::Piece;
use swarfbook_judge::gravest::gravest;
use swarfbook_report::content::{CloseUp, Outline, PhotoSaid, Photos};
use swarfbook_store::Store;

use super::figures::{Figures, fixed};
use super::photos::{size, sized};
use crate::problem::Problem;

/// Pieces shown close at most: the first page has room for three.
const MOST: usize = 3;
/// Looked at, since of some the photo is not at hand.
const LOOKED_AT: usize = 9;
/// Side of the picture as parts of the piece's length.
const AROUND: f64 = 1.7;
/// The least that is cut out, px: less is no picture.
const LEAST_PX: f64 = 48.0;
/// 38 mm at 300 dots an inch.
const SIDE_PX: u32 = 450;
const MOST_BYTES: usize = 40_000;

pub(super) fn close_ups(
    figures: &Figures<'_>,
    store: &Store,
    shown: &[PhotoSaid],
    copies: &mut Photos,
) -> Result<Vec<CloseUp>, Problem> {
    let Some(assessment) = figures.judged.assessment() else {
        return Ok(Vec::new());
    };
    let mut decoded: BTreeMap<EntryId, Option<Upright>> = BTreeMap::new();
    let mut close_ups = Vec::new();
    for (photo, piece) in gravest(figures.state, assessment, LOOKED_AT) {
        if close_ups.len() == MOST {
            break;
        }
        let entry = photo.stamp.entry;
        if !shown.iter().any(|said| said.entry == entry) {
            continue;
        }
        let upright = decoded.entry(entry).or_insert_with(|| {
            let bytes = store.photo(photo.photo).ok()?;
            decode(&bytes).ok()
        });
        let Some(upright) = upright else { continue };
        if let Some(one) = close_up(photo, &piece, upright, copies)? {
            close_ups.push(one);
        }
    }
    Ok(close_ups)
}

fn close_up(
    photo: &PhotoState,
    piece: &Piece,
    upright: &Upright,
    copies: &mut Photos,
) -> Result<Option<CloseUp>, Problem> {
    let Some(census) = &photo.census else {
        return Ok(None);
    };
    let outline = &piece.machine.outline_px;
    let whole = [upright.width, upright.height].map(|side| side as f64);
    let ends = |axis: usize| {
        let at = outline.iter().map(|point| point[axis]);
        at.fold((f64::INFINITY, 0.0_f64), |(a, b), at| {
            (a.min(at), b.max(at))
        })
    };
    let ([left, right], [top, bottom]) = (<[f64; 2]>::from(ends(0)), <[f64; 2]>::from(ends(1)));
    if outline.len() < 3 || census.size_px != Some([upright.width as u32, upright.height as u32]) {
        return Ok(None);
    }
    let long = (right - left).max(bottom - top);
    let side = (long * AROUND)
        .max(LEAST_PX)
        .min(whole[0])
        .min(whole[1])
        .floor();
    let begin = |middle: f64, whole: f64| (middle - side / 2.0).clamp(0.0, whole - side).floor();
    let at = [
        begin(f64::midpoint(left, right), whole[0]),
        begin(f64::midpoint(top, bottom), whole[1]),
    ];
    let square = cut(upright, at.map(|n| n as usize), side as usize);
    let Ok(bytes) = copy_within(square, SIDE_PX, MOST_BYTES) else {
        return Ok(None);
    };
    let Some(size_px) = jpeg_size_px(&bytes) else {
        return Ok(None);
    };
    let corners: Vec<[f64; 2]> = outline
        .iter()
        .map(|[x, y]| [x - at[0], y - at[1]])
        .collect();
    let side_px = side as u32;
    let copy = Sha256Hex::of(&bytes);
    copies.insert(copy, bytes);
    let scale = census.scale.as_ref().filter(|_| sized(photo));
    Ok(Some(CloseUp {
        photo: photo.stamp.entry,
        copy,
        size_px,
        px_per_mm: scale
            .map(|scale| fixed(scale.px_per_mm * f64::from(size_px[0]) / side))
            .transpose()?,
        class: piece.class,
        size: sized(photo).then(|| size(piece)).transpose()?,
        points: Outline::from_px(piece.class, None, &corners, [side_px, side_px]).points,
    }))
}

/// A square of a picture.
fn cut(upright: &Upright, [left, top]: [usize; 2], side: usize) -> Upright {
    let rows = upright.rgb.chunks_exact(upright.width.max(1) * 3);
    let rgb = rows
        .skip(top)
        .take(side)
        .flat_map(|row| row.get(left * 3..(left + side) * 3).unwrap_or_default())
        .copied()
        .collect();
    Upright {
        width: side,
        height: side,
        rgb,
        lens: None,
    }
}
