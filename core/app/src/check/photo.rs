//! Taps on photos, corrections, and standing by a census.

use swarfbook_job::census::{PhotoHints, PhotoKind, PointPx};
use swarfbook_job::fact::{Correction, PhotoLink};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::corrected::takes;
use swarfbook_measure::unit::Quantity;
use swarfbook_words::{retold, say, term};

use super::{number, quantity};
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;

/// The longest known length that two taps can mark, mm.
const MAX_TAP_MM: f64 = 1_000.0;
/// Taps nearer than this make no scale, px.
const MIN_TAP_PX: f64 = 20.0;

fn known(loaded: &Loaded, photo: EntryId) -> Result<&PhotoState, Problem> {
    loaded
        .state
        .photo(photo)
        .ok_or_else(|| Problem::not_found(say!("That photo is not in this job.")))
}

pub(super) fn hinted(loaded: &Loaded, photo: EntryId, hints: &PhotoHints) -> Result<(), Problem> {
    known(loaded, photo)?;
    let points = hints
        .fluid_at
        .iter()
        .chain(&hints.subject_at)
        .chain(hints.taps.iter().flatten());
    for point in points {
        finite(*point)?;
    }
    if let Some([[ax, ay], [bx, by]]) = hints.taps {
        if (ax - bx).hypot(ay - by) < MIN_TAP_PX {
            return Err(Problem::bad_input(
                say!("The two taps lie on one another."),
                say!("Tap the two ends of a known length, as far apart as there is one."),
            ));
        }
        match hints.tap_mm {
            Some(mm) => quantity(
                term!("The known length"),
                mm,
                [0.5, MAX_TAP_MM],
                Quantity::Length,
                loaded.units,
            )?,
            None => {
                return Err(Problem::bad_input(
                    say!("The length between the two taps is missing."),
                    say!("Enter it in mm, for instance 10 for an M6 bolt head's flats."),
                ));
            }
        }
    }
    for height in hints.subject_height_mm.iter().chain(&hints.taps_height_mm) {
        number(
            term!("The height above the card"),
            *height,
            -50.0,
            100.0,
            "mm",
        )?;
    }
    Ok(())
}

pub(super) fn corrected(
    loaded: &Loaded,
    photo: EntryId,
    at: PointPx,
    to: &Correction,
) -> Result<(), Problem> {
    finite(at)?;
    let photo = known(loaded, photo)?;
    if photo.census.is_none() {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("This photo was not counted yet."),
            say!("Let it be counted first."),
        ));
    }
    let (taps, otherwise): (&[PointPx], _) = match to {
        Correction::Debris { .. } | Correction::NotDebris => return Ok(()),
        Correction::Parted { along_px } => (
            along_px,
            Problem::bad_input(
                say!("The line does not cut the piece in two."),
                say!("Tap on one side of the piece, then on the other side of it."),
            ),
        ),
        Correction::Joined { with_px } => (
            std::slice::from_ref(with_px),
            Problem::bad_input(
                say!("There is no second piece at that place to join."),
                say!("Tap the other piece."),
            ),
        ),
    };
    taps.iter().try_for_each(|tap| finite(*tap))?;
    if takes(photo, at, to) {
        Ok(())
    } else {
        Err(otherwise)
    }
}

pub(super) fn linked(
    loaded: &Loaded,
    photo: EntryId,
    to: EntryId,
    link: PhotoLink,
) -> Result<(), Problem> {
    let (later, earlier) = (known(loaded, photo)?, known(loaded, to)?);
    let place = |entry| {
        loaded
            .state
            .photos
            .iter()
            .position(|p| p.stamp.entry == entry)
    };
    let kind = later.subject.kind();
    let patch = kind == Some(PhotoKind::Patch);
    let fits = kind.is_some() && kind == earlier.subject.kind() && place(to) < place(photo);
    if fits && (patch || link != PhotoLink::AfterMagnet) {
        return Ok(());
    }
    Err(Problem::bad_input(
        say!("These two photos can't belong together."),
        say!("Name an earlier photo of the same kind; a magnet is passed over a patch."),
    ))
}

pub(super) fn confirmed(loaded: &Loaded, photo: EntryId) -> Result<(), Problem> {
    match &known(loaded, photo)?.census {
        Some(census) if census.problem.is_none() => Ok(()),
        Some(census) => Err(Problem::new(
            ProblemKind::NotYet,
            say!(
                "There is no count to confirm: {}",
                retold(census.problem.as_deref().unwrap_or_default())
            ),
            say!("Give it a scale, or take the photo again."),
        )),
        None => Err(Problem::new(
            ProblemKind::NotYet,
            say!("This photo was not counted yet."),
            say!("Let it be counted first."),
        )),
    }
}

pub(super) fn finite(point: PointPx) -> Result<(), Problem> {
    for side in point {
        number(
            term!("The place in the photo"),
            side,
            -1_000.0,
            100_000.0,
            "px",
        )?;
    }
    Ok(())
}
