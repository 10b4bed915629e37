//! A census with the technician's corrections laid over it, each at its place
//! in the photo, so that a second census keeps them.

use std::collections::BTreeSet;

use swarfbook_debris::patch::{self, Fate};
use swarfbook_job::census::{Census, DebrisClass, Particle, PointPx};
use swarfbook_job::fact::Correction;
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;

/// A thumb on a small piece is not exact: this many px count as on it.
const REACH_PX: f64 = 24.0;

/// One piece as it stands now.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its place in the list of pieces.
    pub index: usize,
    /// As the machine saw it; one that the technician parted or joined is measured anew.
    pub machine: Particle,
    /// What it is.
    pub class: DebrisClass,
    /// The technician said what it is.
    pub corrected: bool,
    /// The technician says that it is not debris.
    pub not_debris: bool,
    /// The technician parted or joined it.
    pub redrawn: bool,
    /// What became of it under the magnet, where a photo tells.
    pub magnet: Option<Fate>,
}

impl Piece {
    fn of(machine: Particle) -> Piece {
        Piece {
            index: 0,
            class: machine.class,
            machine,
            corrected: false,
            not_debris: false,
            redrawn: false,
            magnet: None,
        }
    }

    /// As a census says it: what the technician said is certain.
    pub fn particle(&self) -> Particle {
        let mut particle = self.machine.clone();
        particle.class = self.class;
        if self.corrected {
            particle.p = [(self.class, 1.0)].into();
            particle.real = None;
        }
        particle
    }
}

/// The pieces of a photo, each with the last correction at its place.
pub fn pieces(photo: &PhotoState) -> Vec<Piece> {
    let Some(census) = &photo.census else {
        return Vec::new();
    };
    let mut pieces: Vec<Piece> = census.particles.iter().cloned().map(Piece::of).collect();
    for correction in &photo.corrections {
        correct(census, &mut pieces, correction.at_px, &correction.to);
    }
    for (index, piece) in pieces.iter_mut().enumerate() {
        piece.index = index;
    }
    pieces
}

/// The lines that correct one of these pieces, by their places in the list as it stands now.
pub fn lines(photo: &PhotoState, wanted: &BTreeSet<usize>) -> Vec<EntryId> {
    let pieces = pieces(photo);
    let corrections = photo.corrections.iter();
    corrections
        .filter(|c| nearest(&pieces, c.at_px).is_some_and(|at| wanted.contains(&at)))
        .map(|c| c.stamp.entry)
        .collect()
}

/// Whether a correction at that place would change anything.
pub fn takes(photo: &PhotoState, at_px: PointPx, to: &Correction) -> bool {
    photo
        .census
        .as_ref()
        .is_some_and(|census| correct(census, &mut pieces(photo), at_px, to))
}

/// Says whether the pieces are other than before. A line that no longer cuts the piece there, and
/// two places that are one piece by now, have nothing left to do: a later census sees what was said.
fn correct(census: &Census, pieces: &mut Vec<Piece>, at_px: PointPx, to: &Correction) -> bool {
    let Some(at) = nearest(pieces, at_px) else {
        return false;
    };
    match to {
        Correction::Debris { class } => {
            pieces[at].corrected = true;
            pieces[at].class = *class;
            pieces[at].not_debris = false;
        }
        Correction::NotDebris => {
            pieces[at].corrected = true;
            pieces[at].not_debris = true;
        }
        Correction::Parted { along_px } => {
            let Some(parts) = patch::parted(census, &pieces[at].machine, *along_px) else {
                return false;
            };
            let whole = pieces.remove(at);
            let part = |machine| Piece {
                redrawn: true,
                class: whole.class,
                corrected: whole.corrected,
                not_debris: whole.not_debris,
                ..Piece::of(machine)
            };
            pieces.splice(at..at, parts.map(part));
        }
        Correction::Joined { with_px } => {
            let with = nearest(pieces, *with_px).filter(|with| *with != at);
            let Some(with) = with else {
                return false;
            };
            let both = patch::joined(census, &pieces[at].machine, &pieces[with].machine);
            let Some(both) = both else {
                return false;
            };
            let greater = if pieces[at].machine.area_mm2 >= pieces[with].machine.area_mm2 {
                at
            } else {
                with
            };
            let told = &pieces[greater];
            let joined = Piece {
                redrawn: true,
                class: told.class,
                corrected: told.corrected,
                not_debris: told.not_debris,
                ..Piece::of(both)
            };
            pieces[at] = joined;
            pieces.remove(with);
        }
    }
    true
}

/// The piece that holds the place, else the one whose middle is nearest and within reach.
fn nearest(pieces: &[Piece], [x, y]: PointPx) -> Option<usize> {
    pieces
        .iter()
        .enumerate()
        .filter_map(|(at, piece)| {
            let machine = &piece.machine;
            let distance = (machine.x_px - x).hypot(machine.y_px - y);
            let outside = !patch::contains(&machine.outline_px, [x, y]);
            (distance <= reach(machine)).then_some((outside, distance, at))
        })
        .min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))
        .map(|(_, _, at)| at)
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
