//! A census with the technician's corrections laid over it.

use swarfbook_job::census::{Census, DebrisClass, Particle};
use swarfbook_job::fact::Correction;
use swarfbook_job::fold::{CorrectionState, PhotoState};

/// A thumb on a small piece is not exact: this many px count as on it.
const REACH_PX: f64 = 24.0;

/// One piece as it stands now.
pub(crate) struct Piece<'a> {
    /// Its number in the machine's census.
    pub index: usize,
    /// As the machine saw it.
    pub machine: &'a Particle,
    /// What it is.
    pub class: DebrisClass,
    /// The technician said something about it.
    pub corrected: bool,
    /// The technician says that it is not debris.
    pub not_debris: bool,
}

/// The pieces of a photo, each with the last correction at its place.
pub(crate) fn pieces(photo: &PhotoState) -> Vec<Piece<'_>> {
    let Some(census) = &photo.census else {
        return Vec::new();
    };
    let mut pieces: Vec<Piece<'_>> = census
        .particles
        .iter()
        .enumerate()
        .map(|(index, machine)| Piece {
            index,
            machine,
            class: machine.class,
            corrected: false,
            not_debris: false,
        })
        .collect();
    for correction in &photo.corrections {
        if let Some(piece) = nearest(&mut pieces, correction) {
            piece.corrected = true;
            match correction.to {
                Correction::Debris { class } => {
                    piece.class = class;
                    piece.not_debris = false;
                }
                Correction::NotDebris => piece.not_debris = true,
            }
        }
    }
    pieces
}

/// The census that counts: corrected classes are certain, what is not debris is gone.
pub(crate) fn census(photo: &PhotoState) -> Option<Census> {
    let mut census = photo.census.clone()?;
    census.particles = pieces(photo)
        .into_iter()
        .filter(|piece| !piece.not_debris)
        .map(|piece| {
            let mut particle = piece.machine.clone();
            if piece.corrected {
                particle.class = piece.class;
                particle.p = [(piece.class, 1.0)].into();
            }
            particle
        })
        .collect();
    Some(census)
}

fn nearest<'p, 'a>(
    pieces: &'p mut [Piece<'a>],
    correction: &CorrectionState,
) -> Option<&'p mut Piece<'a>> {
    let [x, y] = correction.at_px;
    pieces
        .iter_mut()
        .map(|piece| {
            let distance = (piece.machine.x_px - x).hypot(piece.machine.y_px - y);
            (distance, piece)
        })
        .filter(|(distance, piece)| *distance <= reach(piece.machine))
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, piece)| piece)
}

/// Half the piece's extent in the picture, or a thumb's reach when that is more.
fn reach(particle: &Particle) -> f64 {
    let far = particle
        .outline_px
        .iter()
        .map(|[x, y]| (x - particle.x_px).hypot(y - particle.y_px))
        .fold(0.0, f64::max);
    far.max(REACH_PX)
}
