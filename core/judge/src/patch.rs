//! The photos of one patch: laid on one another where there
//! are several, held against each other before and after a magnet.

use swarfbook_debris::patch::{Fate, MagnetPair, NoFit, after_magnet, merge};
use swarfbook_job::census::Census;
use swarfbook_job::fold::{JobState, PhotoState};

use crate::corrected::{self, Piece};

/// The pieces of a photo: corrections applied, and what a magnet says of them where one was passed.
pub fn pieces(state: &JobState, photo: &PhotoState) -> Vec<Piece> {
    let mut pieces = corrected::pieces(photo);
    if let Some(Ok(pair)) = magnet_pair(state, photo) {
        let debris = pieces.iter_mut().filter(|piece| !piece.not_debris);
        for (piece, told) in debris.zip(pair.pieces) {
            piece.magnet = Some(told.fate);
            if piece.corrected {
                continue;
            }
            let likeliest = told.p.iter().max_by(|a, b| a.1.total_cmp(b.1));
            piece.class = likeliest.map_or(piece.class, |(class, _)| *class);
            piece.machine.p = told.p;
        }
    }
    pieces
}

/// The census that counts: corrected classes are certain, what is not debris is gone.
pub fn census(state: &JobState, photo: &PhotoState) -> Option<Census> {
    census_of(photo, &pieces(state, photo))
}

/// A photo's census with these pieces, but for what is not debris.
pub fn census_of(photo: &PhotoState, pieces: &[Piece]) -> Option<Census> {
    let census = photo.census.clone()?;
    let debris = pieces.iter().filter(|piece| !piece.not_debris);
    Some(Census {
        particles: debris.map(Piece::particle).collect(),
        ..census
    })
}

/// A photo's census by its own pixels and the technician's word alone.
fn own_census(photo: &PhotoState) -> Option<Census> {
    census_of(photo, &corrected::pieces(photo)).filter(|c| c.problem.is_none())
}

/// A photo before the magnet held against the last one after it; `None` where there is no such pair
/// of counted photos.
pub fn magnet_pair(state: &JobState, before: &PhotoState) -> Option<Result<MagnetPair, NoFit>> {
    held_against(before, told_by(state, before)?)
}

/// Two photos held against each other; `None` where one of them was not counted.
pub fn held_against(before: &PhotoState, after: &PhotoState) -> Option<Result<MagnetPair, NoFit>> {
    Some(after_magnet(&own_census(before)?, &own_census(after)?))
}

/// The photo after the magnet that says of which class the pieces of this one are: the last that
/// was counted.
pub fn told_by<'a>(state: &'a JobState, before: &PhotoState) -> Option<&'a PhotoState> {
    if before.subject.kind().is_none() || state.is_after_magnet(before) {
        return None;
    }
    let mut after = state.after_magnet(before).into_iter().rev();
    after.find(|photo| own_census(photo).is_some())
}

/// Photos that show one patch, as one.
#[derive(Debug)]
pub struct Together<'a> {
    /// The photos, the first is the one that the others are laid on.
    pub photos: Vec<&'a PhotoState>,
    /// Each piece once, with the photo that shows it.
    pub pieces: Vec<(&'a PhotoState, Piece)>,
    /// Ground that was searched, cm².
    pub searched_cm2: Option<f64>,
    /// Pieces that more than one photo shows.
    pub shared: usize,
    /// Photos that could not be laid on the others, and are left out.
    pub apart: Vec<(&'a PhotoState, NoFit)>,
}

/// The counted photos of the patch that a photo shows, in order; none for what was taken after a
/// magnet.
pub fn counted<'a>(state: &'a JobState, photo: &PhotoState) -> Vec<&'a PhotoState> {
    let mut photos = state.same_patch(photo);
    photos.retain(|p| p.census.as_ref().is_some_and(|c| c.problem.is_none()));
    photos
}

/// Whether a photo is the first of its patch that was counted: the patch is told with it.
fn leads(state: &JobState, photo: &PhotoState) -> bool {
    let first = counted(state, photo).first().map(|p| p.stamp.entry);
    first == Some(photo.stamp.entry)
}

/// The patch that a photo shows, each piece once; `None` for what was taken after a magnet, and
/// while nothing was counted.
pub fn together<'a>(state: &'a JobState, photo: &PhotoState) -> Option<Together<'a>> {
    let photos = counted(state, photo);
    let mut of_each: Vec<Vec<Piece>> = photos.iter().map(|p| pieces(state, p)).collect();
    for of_one in &mut of_each {
        of_one.retain(|piece| !piece.not_debris);
    }
    let censuses: Vec<Census> = photos
        .iter()
        .zip(&of_each)
        .filter_map(|(photo, pieces)| census_of(photo, pieces))
        .collect();
    if censuses.is_empty() {
        return None;
    }
    let merged = merge(&censuses.iter().collect::<Vec<_>>());
    let mut of_each: Vec<Vec<Option<Piece>>> = of_each
        .into_iter()
        .map(|pieces| pieces.into_iter().map(Some).collect())
        .collect();
    Some(Together {
        pieces: merged
            .pieces
            .iter()
            .filter_map(|at| Some((photos[at.photo], of_each[at.photo][at.index].take()?)))
            .collect(),
        searched_cm2: merged.searched_cm2,
        shared: merged.shared,
        apart: merged
            .lies
            .iter()
            .enumerate()
            .skip(1)
            .filter_map(|(at, lies)| Some((photos[at], lies.err()?)))
            .collect(),
        photos,
    })
}

/// The first photo of every patch that was counted.
pub fn leaders(state: &JobState) -> impl Iterator<Item = &PhotoState> {
    state.photos.iter().filter(|photo| leads(state, photo))
}

/// Every patch that was counted, each once.
pub fn patches(state: &JobState) -> impl Iterator<Item = Together<'_>> {
    leaders(state).filter_map(|photo| together(state, photo))
}

/// What became of a piece under the magnet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// The magnet took it.
    Went,
    /// It stayed.
    Stayed,
}

impl Taken {
    /// `None` where the photo after can't tell.
    pub fn of(fate: Fate) -> Option<Taken> {
        match fate {
            Fate::Went => Some(Taken::Went),
            Fate::Stayed => Some(Taken::Stayed),
            Fate::Unsure | Fate::Unseen => None,
        }
    }
}
