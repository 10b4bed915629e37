//! Taps on photos, corrections, and standing by a census.

use swarfbook_job::census::{PhotoHints, PhotoKind, PointPx};
use swarfbook_job::fact::{Correction, PhotoLink, PhotoSubject};
use swarfbook_job::fold::PhotoState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::corrected::takes;
use swarfbook_measure::unit::Quantity;
use swarfbook_words::{kept, say, term};

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
        .ok_or_else(|| Problem::not_found(say!("that-photo-is-not-in-this-job")))
}

/// A reading that was read off a display names the photo of it.
pub(super) fn of_a_display(loaded: &Loaded, photo: EntryId) -> Result<(), Problem> {
    match known(loaded, photo)?.subject {
        PhotoSubject::Display => Ok(()),
        _ => Err(Problem::bad_input(
            say!("that-photo-shows-no-meters-display"),
            say!("read-the-meter-again-or-type-what"),
        )),
    }
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
                say!("the-two-taps-lie-on-one-another"),
                say!("tap-the-two-ends-of-a-known-length"),
            ));
        }
        match hints.tap_mm {
            Some(mm) => quantity(
                term!("the-known-length"),
                mm,
                [0.5, MAX_TAP_MM],
                Quantity::Length,
                loaded.units,
            )?,
            None => {
                return Err(Problem::bad_input(
                    say!("the-length-between-the-two-taps-is-missing"),
                    say!("enter-it-in-mm-for-instance-10-for"),
                ));
            }
        }
    }
    for height in hints.subject_height_mm.iter().chain(&hints.taps_height_mm) {
        number(
            term!("the-height-above-the-card"),
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
            say!("this-photo-was-not-counted-yet"),
            say!("let-it-be-counted-first"),
        ));
    }
    let (taps, otherwise): (&[PointPx], _) = match to {
        Correction::Debris { .. } | Correction::NotDebris => return Ok(()),
        Correction::Parted { along_px } => (
            along_px,
            Problem::bad_input(
                say!("the-line-does-not-cut-the-piece-in"),
                say!("tap-on-one-side-of-the-piece-then"),
            ),
        ),
        Correction::Joined { with_px } => (
            std::slice::from_ref(with_px),
            Problem::bad_input(
                say!("there-is-no-second-piece-at-that-place"),
                say!("tap-the-other-piece"),
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
        say!("these-two-photos-cant-belong-together"),
        say!("name-an-earlier-photo-of-the-same-kind"),
    ))
}

pub(super) fn confirmed(loaded: &Loaded, photo: EntryId) -> Result<(), Problem> {
    match &known(loaded, photo)?.census {
        Some(census) if census.problem.is_none() => Ok(()),
        Some(census) => Err(Problem::new(
            ProblemKind::NotYet,
            say!(
                "there-is-no-count-to-confirm-problem",
                problem = kept(census.problem.as_deref().unwrap_or_default())
            ),
            say!("give-it-a-scale-or-take-the-photo"),
        )),
        None => Err(Problem::new(
            ProblemKind::NotYet,
            say!("this-photo-was-not-counted-yet"),
            say!("let-it-be-counted-first"),
        )),
    }
}

pub(super) fn finite(point: PointPx) -> Result<(), Problem> {
    for side in point {
        number(
            term!("the-place-in-the-photo"),
            side,
            -1_000.0,
            100_000.0,
            "px",
        )?;
    }
    Ok(())
}
