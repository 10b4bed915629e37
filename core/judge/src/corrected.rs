//! A census with the technician's corrections laid over it, each at its place
//! in the photo, so that a second census keeps them.

use std::collections::BTreeSet;

use swarfbook_debris::patch::{self, Fate};
use swarfbook_job::census::{Census, DebrisClass, Particle, PointPx};
use swarfbook_job::fact::Correction;
use swarfbook_job::fold::{CorrectionState, PhotoState};
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

/// A correction with the piece that it found.
#[derive(Debug, Clone, PartialEq)]
pub struct Change<'a> {
    /// As it was written down.
    pub line: &'a CorrectionState,
    /// The piece at its place as it stood then; `None` where there was none, or where
    /// nothing was left to do.
    pub was: Option<Piece>,
}

/// Each correction in the order of writing, with what it changed.
pub fn changes(photo: &PhotoState) -> Vec<Change<'_>> {
    let Some(census) = &photo.census else {
        return Vec::new();
    };
    let mut pieces: Vec<Piece> = census.particles.iter().cloned().map(Piece::of).collect();
    let each = photo.corrections.iter();
    each.map(|line| {
        let was = nearest(&pieces, line.at_px).and_then(|at| pieces.get(at).cloned());
        let changed = correct(census, &mut pieces, line.at_px, &line.to);
        Change {
            line,
            was: was.filter(|_| changed),
        }
    })
    .collect()
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

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use chrono::DateTime;
    use swarfbook_job::census::{PhotoHints, PhotoKind, SizeClass};
    use swarfbook_job::fact::PhotoSubject;
    use swarfbook_job::fold::Stamp;
    use swarfbook_job::id::{DeviceId, Sha256Hex};

    use super::*;

    fn stamp(line: u8) -> Stamp {
        let id = format!("00000000-0000-0000-0000-0000000000{line:02}");
        let device: DeviceId = "00000000-0000-0000-0000-000000000001".parse().unwrap();
        Stamp {
            entry: id.parse().unwrap(),
            device,
            wall: DateTime::UNIX_EPOCH.fixed_offset(),
            hand: Arc::default(),
        }
    }

    fn lining([x, y]: PointPx) -> Particle {
        Particle {
            x_px: x,
            y_px: y,
            class: DebrisClass::Lining,
            p: [(DebrisClass::Lining, 0.8)].into(),
            feret_max_mm: 0.84,
            feret_max_lo: 0.8,
            feret_max_hi: 0.9,
            feret_min_mm: 0.3,
            area_mm2: 0.2,
            iso16232: SizeClass::J,
            outline_px: vec![[x - 5.0, y], [x + 5.0, y], [x, y + 5.0]],
            real: None,
        }
    }

    #[test]
    fn each_correction_tells_the_piece_as_it_found_it() {
        let census = Census {
            particles: vec![lining([100.0, 100.0]), lining([400.0, 100.0])],
            ..swarfbook_debris::unread(PhotoKind::Patch, &swarfbook_debris::Unreadable::Empty)
        };
        let grit = Correction::Debris {
            class: DebrisClass::Grit,
        };
        let corrected = |line, at_px, to| CorrectionState {
            stamp: stamp(line),
            at_px,
            to,
        };
        let photo = PhotoState {
            stamp: stamp(1),
            step: "patch".into(),
            photo: Sha256Hex::of(b"photo"),
            subject: PhotoSubject::Patch,
            hints: PhotoHints::default(),
            census: Some(census),
            census_stamp: Some(stamp(2)),
            corrections: vec![
                corrected(3, [101.0, 101.0], grit),
                corrected(4, [100.0, 100.0], Correction::NotDebris),
                corrected(5, [900.0, 900.0], grit),
            ],
            confirmed: None,
            link: None,
        };
        let told: Vec<_> = changes(&photo)
            .iter()
            .map(|change| {
                let was = change.was.as_ref();
                was.map(|piece| (piece.machine.class, piece.class, piece.corrected))
            })
            .collect();
        assert_eq!(
            told,
            [
                Some((DebrisClass::Lining, DebrisClass::Lining, false)),
                Some((DebrisClass::Lining, DebrisClass::Grit, true)),
                None,
            ]
        );
    }
}
