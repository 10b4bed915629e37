//! Which stretch between control unit and part is open, shorted or resistive, from what was
//! read at both sides: series and parallel resistances (Ohm, Kirchhoff), and nothing else.
//!
//! A part is reached by two wires. At the control unit's connector, with the part plugged in,
//! pin to pin is wire, part and wire in series; at the part alone it is the part. A pin's way
//! to ground ends at the nearest short: by its own wire, or through the part by the other one.

use swarfbook_job::fact::{HarnessRead, ReadingKind};
use swarfbook_measure::contact::Sample;
use swarfbook_measure::input::InputError;
use swarfbook_measure::judge::SHORT_BELOW_OHMS;
use swarfbook_measure::meter::Meter;
use swarfbook_measure::unit::COVERAGE;

use crate::reading::{meter, sample};

/// A wire that is sound has less than this from end to end, ohm (common practice, no published
/// source).
pub const WIRE_MOST_OHMS: f64 = 0.5;

/// One number of the matrix, leads off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Look {
    /// No current passes.
    Open,
    /// Ohm, and its standard uncertainty.
    Ohms(f64, f64),
}

/// Both pins from one side.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Side {
    /// From pin to pin.
    pub across: Option<Look>,
    /// From each pin to ground.
    pub to_ground: [Option<Look>; 2],
}

/// All that was read.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Matrix {
    /// At the control unit's connector, the part plugged in.
    pub control: Side,
    /// At the part alone.
    pub part: Side,
    /// Each wire from end to end.
    pub wires: [Option<Look>; 2],
}

/// What a stretch is found to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Found {
    /// What was read does not tell.
    NotTold,
    /// Nothing speaks against it.
    Sound,
    /// It is broken.
    Open,
    /// This one or the other wire is broken.
    OpenHereOrThere,
    /// More ohms than a wire has.
    Resistive(f64),
    /// The two wires together have more ohms than wires have.
    ResistiveHereOrThere(f64),
    /// A path to ground.
    ToGround(f64),
    /// This one or the other wire has a path to ground.
    ToGroundHereOrThere(f64),
    /// A path from one wire to the other.
    Together(f64),
}

impl Found {
    /// It is to be mended, or searched.
    pub fn is_bad(self) -> bool {
        !matches!(self, Found::NotTold | Found::Sound)
    }
}

/// What to read next, where that tells more.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Next {
    /// Pin to pin at the control unit's connector.
    ControlAcross,
    /// The part alone.
    PartAcross,
    /// Each pin to ground at the control unit's connector.
    ControlToGround,
    /// The part's pins to ground.
    PartToGround,
    /// Each wire from end to end.
    Wires,
}

/// What the ohms from pin to pin and from pin to ground tell of each stretch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Harness {
    /// The two wires, each from connector to part.
    pub wires: [Found; 2],
    /// What lies between them.
    pub between: Found,
    /// The part itself; whether its ohms are in spec is for its own reading.
    pub part: Found,
    /// What to read next.
    pub next: Option<Next>,
}

/// What was typed, as the rule takes it.
///
/// # Errors
/// [`InputError`] for what is no number of ohms.
pub fn matrix(read: &HarnessRead) -> Result<Matrix, InputError> {
    let by = meter(&read.meter);
    let leads = match look(read.leads.as_deref(), by, None)? {
        Some(Look::Ohms(ohms, _)) => Some(ohms),
        Some(Look::Open) | None => None,
    };
    let one = |typed: &Option<String>| look(typed.as_deref(), by, leads);
    let two = |[first, second]: &[Option<String>; 2]| Ok([one(first)?, one(second)?]);
    Ok(Matrix {
        control: Side {
            across: one(&read.control.across)?,
            to_ground: two(&read.control.to_ground)?,
        },
        part: Side {
            across: one(&read.part.across)?,
            to_ground: two(&read.part.to_ground)?,
        },
        wires: two(&read.wires)?,
    })
}

fn look(typed: Option<&str>, by: Meter, leads: Option<f64>) -> Result<Option<Look>, InputError> {
    let Some(typed) = typed.map(str::trim).filter(|typed| !typed.is_empty()) else {
        return Ok(None);
    };
    Ok(Some(match sample(typed, ReadingKind::Resistance)? {
        Sample::Open | Sample::Above { .. } => Look::Open,
        Sample::Value { value, resolution } => {
            let u = by.standard_uncertainty(value, resolution);
            Look::Ohms((value - leads.unwrap_or(0.0)).max(0.0), u)
        }
    }))
}

/// Tells the stretches by what was read.
pub fn told(matrix: &Matrix) -> Harness {
    let Matrix {
        control,
        part,
        wires,
    } = *matrix;
    let part_found = of_part(part);
    let between = together(control.across, part.across);
    let through = series(wires, control.across, part.across);
    let ground = to_ground(control.to_ground, part, part_found);
    Harness {
        // A path to ground is said first: it blows what feeds it.
        wires: [0, 1].map(|at| match (ground[at], through[at]) {
            (Found::NotTold | Found::Sound, other) if other.is_bad() => other,
            (Found::Sound, Found::NotTold) | (Found::NotTold, Found::Sound) => Found::Sound,
            (ground, _) => ground,
        }),
        between,
        part: part_found,
        next: next(matrix, through, between, part_found),
    }
}

fn of_part(part: Side) -> Found {
    let path = part.to_ground.into_iter().filter_map(path).reduce(f64::min);
    match (path, part.across) {
        (Some(ohms), _) => Found::ToGround(ohms),
        (None, Some(Look::Open)) => Found::Open,
        (None, Some(Look::Ohms(..))) => Found::Sound,
        (None, None) => Found::NotTold,
    }
}

/// Ohm of a path to ground, where there is one.
fn path(look: Option<Look>) -> Option<f64> {
    match look {
        Some(Look::Ohms(ohms, _)) if ohms < SHORT_BELOW_OHMS => Some(ohms),
        _ => None,
    }
}

/// More than what wires have, with what is in doubt of it.
fn too_much(ohms: f64, u: f64, wires: f64) -> bool {
    ohms > wires * WIRE_MOST_OHMS + COVERAGE * u
}

/// Each wire from end to end: as read, else by the loop less the part.
fn series(wires: [Option<Look>; 2], control: Option<Look>, part: Option<Look>) -> [Found; 2] {
    let read = wires.map(|wire| match wire {
        None => Found::NotTold,
        Some(Look::Open) => Found::Open,
        Some(Look::Ohms(ohms, u)) if too_much(ohms, u, 1.0) => Found::Resistive(ohms),
        Some(Look::Ohms(..)) => Found::Sound,
    });
    let both = match (control, part) {
        (Some(Look::Open), Some(Look::Ohms(..))) => Found::OpenHereOrThere,
        (Some(Look::Ohms(all, u)), Some(Look::Ohms(alone, v))) => {
            if too_much(all - alone, u.hypot(v), 2.0) {
                Found::ResistiveHereOrThere(all - alone)
            } else {
                Found::Sound
            }
        }
        _ => Found::NotTold,
    };
    match (read, both) {
        ([Found::NotTold, Found::NotTold], both) => [both, both],
        // One was read and is sound: it is the other.
        ([Found::Sound, Found::NotTold], both) => [Found::Sound, alone(both)],
        ([Found::NotTold, Found::Sound], both) => [alone(both), Found::Sound],
        (read, _) => read,
    }
}

/// What holds of both, said of one.
fn alone(found: Found) -> Found {
    match found {
        Found::OpenHereOrThere => Found::Open,
        Found::ResistiveHereOrThere(ohms) => Found::Resistive(ohms),
        Found::ToGroundHereOrThere(ohms) => Found::ToGround(ohms),
        other => other,
    }
}

/// A path beside the part: pin to pin has less than the part alone.
fn together(control: Option<Look>, part: Option<Look>) -> Found {
    match (control, part) {
        (Some(Look::Ohms(ohms, _)), Some(Look::Open)) => Found::Together(ohms),
        (Some(Look::Ohms(all, u)), Some(Look::Ohms(alone, v))) => {
            if alone - all > COVERAGE * u.hypot(v) {
                // 1 / all = 1 / alone + 1 / beside
                Found::Together(all * alone / (alone - all))
            } else {
                Found::Sound
            }
        }
        (Some(Look::Open), Some(_)) => Found::Sound,
        _ => Found::NotTold,
    }
}

/// With the part plugged in, a short of one wire shows at the other pin as well, through the
/// part: the wire with less is the one.
fn to_ground(pins: [Option<Look>; 2], part: Side, part_found: Found) -> [Found; 2] {
    let [Some(first), Some(second)] = pins else {
        return pins.map(|pin| match (path(pin), part_found) {
            (Some(ohms), found) if grounds(found) == Some(false) => {
                Found::ToGroundHereOrThere(ohms)
            }
            _ => Found::NotTold,
        });
    };
    let paths = [path(Some(first)), path(Some(second))];
    if paths == [None, None] {
        return [Found::Sound; 2];
    }
    // The part's own path shows at both pins: of the wires nothing is told.
    let part_to_ground = part.to_ground.iter().any(Option::is_some);
    if grounds(part_found) != Some(false) || !part_to_ground {
        return [Found::NotTold; 2];
    }
    match (first, second) {
        (Look::Ohms(one, u), Look::Ohms(other, v))
            if (one - other).abs() <= COVERAGE * u.hypot(v) =>
        {
            [Found::ToGroundHereOrThere(one.min(other)); 2]
        }
        (Look::Ohms(one, _), Look::Ohms(other, _)) if one < other => {
            [Found::ToGround(one), Found::NotTold]
        }
        (Look::Ohms(..), Look::Ohms(other, _)) => [Found::NotTold, Found::ToGround(other)],
        (Look::Ohms(one, _), Look::Open) => [Found::ToGround(one), Found::Sound],
        (Look::Open, Look::Ohms(other, _)) => [Found::Sound, Found::ToGround(other)],
        (Look::Open, Look::Open) => [Found::Sound; 2],
    }
}

/// Whether the part has a path to ground; `None` where that is not told.
fn grounds(part: Found) -> Option<bool> {
    match part {
        Found::ToGround(_) => Some(true),
        Found::NotTold => None,
        _ => Some(false),
    }
}

fn next(matrix: &Matrix, through: [Found; 2], between: Found, part: Found) -> Option<Next> {
    let Side { across, to_ground } = matrix.control;
    if across.is_none() {
        return Some(Next::ControlAcross);
    }
    if to_ground.iter().any(Option::is_none) {
        return Some(Next::ControlToGround);
    }
    if matrix.part.across.is_none() {
        return Some(Next::PartAcross);
    }
    let grounded = to_ground.into_iter().any(|pin| path(pin).is_some());
    if grounded && matrix.part.to_ground.iter().any(Option::is_none) {
        return Some(Next::PartToGround);
    }
    let either = through.iter().any(|wire| {
        matches!(
            wire,
            Found::OpenHereOrThere | Found::ResistiveHereOrThere(_)
        )
    });
    // An open part hides its wires.
    let hidden = part == Found::Open && between == Found::Sound;
    let unread = matrix.wires.iter().any(Option::is_none);
    ((either || hidden) && unread).then_some(Next::Wires)
}
