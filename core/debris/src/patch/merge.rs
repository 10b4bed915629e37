//! Several photos of one patch as one: what two of them show is counted once,
//! the area looked at is that of all together.

use swarfbook_job::census::Census;

use super::align::{Motion, NoFit, align, distance, pair_up};
use super::sheet::Sheet;

/// Partners that an outline drawn otherwise moved this far are the same piece, mm.
pub(super) const SAME_MM: f64 = 1.0;

/// A piece that counts: where it is shown best.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Piece {
    /// Which photo.
    pub photo: usize,
    /// Its number there.
    pub index: usize,
}

/// Photos of one patch laid together.
#[derive(Debug, Clone, PartialEq)]
pub struct Merged {
    /// The pieces that count, each once.
    pub pieces: Vec<Piece>,
    /// How each photo lies on the first, or why it does not; the first lies on itself.
    pub lies: Vec<Result<Motion, NoFit>>,
    /// Pieces that more than one photo shows.
    pub shared: usize,
    /// Ground that was searched in all of them together, cm²; `None` where one does not say.
    pub searched_cm2: Option<f64>,
}

struct Laid<'a> {
    photo: usize,
    sheet: Sheet<'a>,
    /// From its plane to the first photo's.
    motion: Motion,
}

/// Merges photos of one patch. A photo that does not fit on those before it brings no pieces and
/// no area, since they can't be told from those that were counted.
pub fn merge(photos: &[&Census]) -> Merged {
    let mut merged = Merged {
        pieces: Vec::new(),
        lies: Vec::new(),
        shared: 0,
        searched_cm2: None,
    };
    let mut laid: Vec<Laid> = Vec::new();
    for (photo, census) in photos.iter().enumerate() {
        let lies = match Sheet::of(census) {
            None => Err(NoFit::NoScale),
            Some(sheet) if laid.is_empty() => Ok((sheet, Motion::still())),
            Some(sheet) => lay(&sheet, &laid).map(|motion| (sheet, motion)),
        };
        match lies {
            Ok((sheet, motion)) => {
                let new = Laid {
                    photo,
                    sheet,
                    motion,
                };
                add(&mut merged, &laid, &new);
                merged.lies.push(Ok(motion));
                laid.push(new);
            }
            // Without a scale the first is all there is.
            Err(why) if photo == 0 => {
                let index = 0..census.particles.len();
                merged.pieces = index.map(|index| Piece { photo, index }).collect();
                merged.searched_cm2 = census.searched_cm2;
                merged.lies.push(Err(why));
            }
            Err(why) => merged.lies.push(Err(why)),
        }
    }
    merged
}

/// On whichever photo it shares most with; the reason of the first where it fits none.
fn lay(sheet: &Sheet, laid: &[Laid]) -> Result<Motion, NoFit> {
    let mut best: Option<(usize, Motion)> = None;
    let mut why = None;
    for on in laid {
        match align(sheet, &on.sheet) {
            Ok(aligned) if best.is_none_or(|(n, _)| aligned.partners.len() > n) => {
                best = Some((aligned.partners.len(), aligned.motion.then(&on.motion)));
            }
            Ok(_) => {}
            Err(no) => {
                why.get_or_insert(no);
            }
        }
    }
    best.map(|(_, motion)| motion)
        .ok_or(why.unwrap_or(NoFit::NoScale))
}

fn add(merged: &mut Merged, laid: &[Laid], new: &Laid) {
    let mut had = vec![false; new.sheet.spots.len()];
    for on in laid {
        let back = new.motion.then(&on.motion.inverse());
        for (i, j) in pair_up(&new.sheet, &on.sheet, &back, SAME_MM) {
            let at = Piece {
                photo: on.photo,
                index: j,
            };
            // Where the earlier photo's piece was itself taken from a third, that one stands.
            let kept = merged.pieces.iter_mut().find(|p| **p == at);
            let counted_before = kept.is_some();
            if let Some(kept) = kept
                && better(&new.sheet, i, &on.sheet, j)
            {
                *kept = Piece {
                    photo: new.photo,
                    index: i,
                };
            }
            if !had[i] && counted_before {
                merged.shared += 1;
            }
            had[i] = true;
        }
        // A piece where an earlier photo drew a larger one, or two for one, is not new either.
        for (i, spot) in new.sheet.spots.iter().enumerate() {
            let to = back.apply(spot.at);
            had[i] |= on
                .sheet
                .spots
                .iter()
                .any(|q| distance(to, q.at) < 0.4 * q.feret_mm.max(spot.feret_mm));
        }
    }
    let index = (0..had.len()).filter(|i| !had[*i]);
    merged.pieces.extend(index.map(|index| Piece {
        photo: new.photo,
        index,
    }));
    let own = new.sheet.census.searched_cm2;
    let tiles = new.sheet.tiles();
    let area = |of: &dyn Fn(&[f64; 2]) -> bool| -> f64 {
        tiles
            .iter()
            .filter(|(at, _)| of(at))
            .map(|(_, area)| area)
            .sum()
    };
    let seen_before = area(&|at| {
        let first = new.motion.apply(*at);
        laid.iter()
            .any(|on| on.sheet.sees(on.motion.inverse().apply(first), 0.0))
    });
    let share_new = 1.0 - seen_before / area(&|_| true).max(f64::MIN_POSITIVE);
    merged.searched_cm2 = match (laid.is_empty(), merged.searched_cm2, own) {
        (true, _, own) => own,
        (false, Some(before), Some(own)) => Some(before + own * share_new),
        _ => None,
    };
}

/// The new photo's word on a piece counts before the old one's: the technician said what it is, or
/// it lies nearer to the picture's middle and has more pixels.
fn better(new: &Sheet, i: usize, old: &Sheet, j: usize) -> bool {
    let off = |sheet: &Sheet, k: usize| {
        let [w, h] = sheet.census.size_px.unwrap_or([1, 1]).map(f64::from);
        let [x, y] = sheet.to_px(sheet.spots[k].at);
        ((x / w - 0.5).hypot(y / h - 0.5))
            / sheet.census.scale.as_ref().map_or(1.0, |s| s.px_per_mm)
    };
    let said = |sheet: &Sheet, k: usize| sheet.census.particles[k].p.values().any(|p| *p >= 1.0);
    match (said(new, i), said(old, j)) {
        (true, false) => true,
        (false, true) => false,
        _ => off(new, i) < off(old, j),
    }
}
