//! What comes off and goes back, and tightening.

use swarfbook_job::fact::{PartOff, Tightened};
use swarfbook_job::fold::PartState;
use swarfbook_job::id::EntryId;
use swarfbook_judge::tighten;
use swarfbook_measure::input;
use swarfbook_measure::torque::{ToolError, check_angle, doubt, set_for, tool_uncertainty};
use swarfbook_measure::unit::{NewtonMetres, Quantity, Unit};
use swarfbook_words::{say, term};

use super::{LONG, SHORT, number, quantity, text, wanted_text};
use crate::present::tighten::angle_alone;
use crate::problem::{Problem, ProblemKind};
use crate::state::Loaded;

pub(super) fn off(loaded: &Loaded, part: &PartOff) -> Result<(), Problem> {
    super::step::known(loaded, &part.step)?;
    wanted_text(term!("what-came-off"), &part.item, SHORT)?;
    wanted_text(term!("where-it-goes-back"), &part.place, SHORT)?;
    text(term!("the-size"), &part.size, SHORT)?;
    number(
        term!("how-many"),
        f64::from(part.count),
        1.0,
        200.0,
        "pieces",
    )?;
    if let Some(mm) = part.length_mm {
        quantity(
            term!("the-length"),
            mm,
            [1.0, 1_000.0],
            Quantity::Length,
            loaded.units,
        )?;
    }
    if let Some(photo) = part.photo
        && loaded.state.photo(photo).is_none()
    {
        return Err(Problem::not_found(say!("that-photo-is-not-in-this-job")));
    }
    places(part)
}

/// Places are tapped on a photo, one for each piece at the most.
fn places(part: &PartOff) -> Result<(), Problem> {
    if part.at_px.is_empty() {
        return Ok(());
    }
    if part.photo.is_none() {
        return Err(Problem::bad_input(
            say!("places-were-tapped-but-on-no-photo"),
            say!("choose-the-photo-then-tap-the-places"),
        ));
    }
    if part.at_px.len() > part.count as usize {
        return Err(Problem::bad_input(
            say!(
                "at-px-places-for-count-pieces-cant-be",
                at_px = part.at_px.len(),
                count = part.count
            ),
            say!("count-again-or-take-a-place-away"),
        ));
    }
    part.at_px
        .iter()
        .try_for_each(|at| super::photo::finite(*at))
}

fn known(loaded: &Loaded, part: EntryId) -> Result<&PartState, Problem> {
    loaded
        .state
        .parts
        .iter()
        .find(|p| p.stamp.entry == part)
        .ok_or_else(|| Problem::not_found(say!("nothing-of-that-kind-came-off-in-this")))
}

pub(super) fn back(loaded: &Loaded, part: EntryId, count: u32) -> Result<(), Problem> {
    let part = known(loaded, part)?;
    if (1..=part.off()).contains(&count) {
        return Ok(());
    }
    Err(Problem::bad_input(
        say!(
            "count-cant-go-back-off-of-count-2",
            count = count,
            off = part.off(),
            count_2 = part.part.count
        ),
        say!("count-again-one-too-many-belongs-somewhere-else"),
    ))
}

pub(super) fn lost(loaded: &Loaded, part: EntryId, count: u32, words: &str) -> Result<(), Problem> {
    let part = known(loaded, part)?;
    wanted_text(term!("what-happened-to-it"), words, LONG)?;
    if (1..=part.off()).contains(&count) {
        return Ok(());
    }
    Err(Problem::bad_input(
        say!(
            "count-cant-be-lost-off-are-still-off",
            count = count,
            off = part.off()
        ),
        say!("count-again"),
    ))
}

pub(super) fn tightened(
    loaded: &Loaded,
    step: &str,
    tightened: &Tightened,
    sure: bool,
) -> Result<(), Problem> {
    super::step::known(loaded, step)?;
    wanted_text(term!("what-was-tightened"), &tightened.what, SHORT)?;
    if !tightened.by_hand_first {
        return Err(Problem::new(
            ProblemKind::NotYet,
            say!("every-bolt-is-started-by-hand-first"),
            say!("start-them-by-hand-then-tighten-a-crossed"),
        ));
    }
    number(
        term!("passes"),
        f64::from(tightened.passes),
        1.0,
        10.0,
        "passes",
    )?;
    let again = |why: String| Problem::bad_input(why, say!("enter-it-again"));
    if let Some(bolts) = tightened.bolts {
        number(
            term!("how-many-bolts"),
            f64::from(bolts),
            2.0,
            60.0,
            "bolts",
        )?;
    }
    if let Some(adapter) = tightened.adapter {
        set_for(adapter, NewtonMetres(0.0)).map_err(|why| again(why.to_string()))?;
    }
    if let (Some(tool), Some(nm)) = (tightened.tool, tightened.torque_nm) {
        let set = match tightened.adapter {
            Some(adapter) => set_for(adapter, NewtonMetres(nm)),
            None => Ok(NewtonMetres(nm)),
        };
        let set = set.map_err(|why| again(why.to_string()))?;
        match tool_uncertainty(set, tool) {
            Ok(_) => {}
            Err(ToolError::BelowScale { .. }) if sure => {}
            Err(below @ ToolError::BelowScale { .. }) => {
                return Err(Problem::new(
                    ProblemKind::Doubtful,
                    below.to_string(),
                    say!("if-it-was-tightened-with-that-tool-all"),
                ));
            }
            Err(other) => return Err(again(other.to_string())),
        }
    }
    if let Some(angle_deg) = tightened.angle_deg {
        check_angle(angle_deg).map_err(|why| again(why.to_string()))?;
        if tightened.torque_nm.is_none() {
            return Err(angle_alone());
        }
    }
    text(
        term!("the-torque-as-typed"),
        tightened.typed.as_deref().unwrap_or_default(),
        SHORT,
    )?;
    if let Some(nm) = tightened.torque_nm {
        quantity(
            term!("the-torque"),
            nm,
            [0.0, 10_000.0],
            Quantity::Torque,
            loaded.units,
        )?;
        let thread = tighten::thread(&loaded.state, &tightened.what);
        let unit = typed_unit(tightened, loaded.units.torque);
        if !sure && let Some(doubt) = doubt(NewtonMetres(nm), unit, thread) {
            return Err(Problem::new(
                ProblemKind::Doubtful,
                doubt.question,
                say!("look-at-the-makers-figure-and-its-unit"),
            ));
        }
    }
    Ok(())
}

/// The unit that the torque was typed in; the device's where the line does not say.
fn typed_unit(tightened: &Tightened, usual: Unit) -> Unit {
    let typed = tightened.typed.as_deref().unwrap_or_default();
    match input::parse_in(typed, Quantity::Torque, usual).map(|entered| entered.value) {
        Ok(input::EnteredValue::Number { unit, .. }) => unit,
        _ => usual,
    }
}
