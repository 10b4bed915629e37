//! A tightening planned: the order drawn, the passes with what to set.

use swarfbook_job::fold::JobState;
use swarfbook_judge::tighten::{
    Bolt, MOST_BOLTS, NoSuchCount, Places, adapter, aspect, drawn, places, thread, tool,
};
use swarfbook_measure::input;
use swarfbook_measure::torque::{
    Adapter, Finish, Pass, PassKind, Plan, ToolClass, ToolError, TorqueDoubt, check_angle,
    cross_sequence, doubt, plan, tool_uncertainty,
};
use swarfbook_measure::unit::{NewtonMetres, Quantity, Unit, Units, outwards, show_number};
use swarfbook_words::{say, term};

use crate::command::TighteningAsked;
use crate::problem::Problem;
use crate::view::{BoltView, PassView, TighteningView};

/// Plans what is asked for; writes nothing.
pub(crate) fn planned(
    state: &JobState,
    asked: &TighteningAsked,
    units: Units,
) -> Result<TighteningView, Problem> {
    let places = places(state, &asked.what, asked.bolts).map_err(no_such_count)?;
    let torque = torque(&asked.torque, units.torque)?;
    let angle = angle(&asked.angle)?;
    if angle.is_some() && torque.is_none() {
        return Err(angle_alone());
    }
    let adapter = asked.adapter.map(adapter);
    let tool = asked.tool.map(tool);
    let unit = torque.map_or(units.torque, |(_, unit)| unit);
    let asked_about = torque
        .filter(|_| !asked.sure)
        .and_then(|(t, unit)| doubt(t, unit, thread(state, &asked.what)));
    // No tool is put to a bolt by a figure that is in doubt.
    let believed = torque.map(|(t, _)| t).filter(|_| asked_about.is_none());
    let Plan { passes, cautions } = passes(&places, believed, angle, asked)?;
    let passes = passes
        .iter()
        .map(|pass| pass_view(pass, places.at.len(), adapter, tool, unit))
        .collect::<Result<_, _>>()?;
    Ok(TighteningView {
        torque_nm: torque.map(|(t, _)| t.get()),
        torque_words: torque.map_or_else(String::new, |(t, _)| in_units(t)),
        doubt_instead: asked_about
            .as_ref()
            .zip(torque)
            .and_then(|(doubt, (t, unit))| instead(doubt, t, unit)),
        doubt: asked_about.map(|d| d.question),
        tool_words: believed
            .zip(tool)
            .map(|(t, tool)| tool_words(t, tool, adapter, unit))
            .transpose()?,
        bolts: drawn(&places.at).into_iter().map(bolt).collect(),
        aspect: aspect(&places.at),
        photo: places.photo,
        places_words: places_words(&places),
        passes,
        cautions,
    })
}

fn no_such_count(count: NoSuchCount) -> Problem {
    again(say!(
        "{} bolts can't be. A pan has 2 to {}.",
        count.0,
        MOST_BOLTS
    ))
}

fn places_words(places: &Places) -> String {
    match (places.at.len(), places.photo) {
        (0, _) => String::new(),
        (count, Some(_)) => say!("{} bolts, where you tapped them on the photo.", count),
        (count, None) => say!(
            "{} bolts, drawn evenly round a pan. Where yours differs, hold to the rule: from the middle outwards, crosswise, the corners last.",
            count
        ),
    }
}

fn bolt(bolt: Bolt) -> BoltView {
    BoltView {
        x: bolt.x,
        y: bolt.y,
        turn: bolt.turn,
    }
}

/// The same number in the unit that is asked about, as it would be typed.
fn instead(doubt: &TorqueDoubt, torque: NewtonMetres, unit: Unit) -> Option<String> {
    let number = show_number(unit.from_base(torque.get()));
    doubt
        .instead
        .map(|instead| format!("{number} {}", instead.symbol()))
}

/// Without the torque that it is turned from, an angle says nothing.
pub(crate) fn angle_alone() -> Problem {
    again(say!(
        "An angle is turned from a torque: the torque is missing."
    ))
}

/// The angle as typed, degrees.
fn angle(typed: &str) -> Result<Option<f64>, Problem> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let angle_deg = input::parse_bare(typed).map_err(again)?;
    check_angle(angle_deg).map_err(again)?;
    Ok(Some(angle_deg))
}

fn again(why: impl std::fmt::Display) -> Problem {
    Problem::bad_input(why.to_string(), say!("Enter it again."))
}

/// The torque as typed, with the unit it was typed in, `usual` when none was; `None` to feel.
fn torque(typed: &str, usual: Unit) -> Result<Option<(NewtonMetres, Unit)>, Problem> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    let entered = input::parse_in(typed, Quantity::Torque, usual).map_err(again)?;
    Ok(match entered.value {
        input::EnteredValue::Number { value, unit, .. } => Some((NewtonMetres(value), unit)),
        input::EnteredValue::Open | input::EnteredValue::Above { .. } => None,
    })
}

fn passes(
    places: &Places,
    torque: Option<NewtonMetres>,
    angle_deg: Option<f64>,
    asked: &TighteningAsked,
) -> Result<Plan, Problem> {
    if places.at.len() >= 2
        && let Some(full) = torque
    {
        let finish = match angle_deg {
            Some(angle_deg) => Finish::Angle { angle_deg },
            None if asked.sealant => Finish::Sealant,
            None => Finish::LastRound,
        };
        return plan(&places.at, full, asked.rounds, finish).map_err(again);
    }
    let order = cross_sequence(&places.at);
    let mut kinds = vec![PassKind::ByHand];
    if let Some(t) = torque {
        kinds.push(PassKind::Full { torque_nm: t.get() });
        kinds.extend(angle_deg.map(|angle_deg| PassKind::Angle { angle_deg }));
    }
    Ok(Plan {
        passes: kinds
            .into_iter()
            .map(|what| Pass {
                what,
                order: order.clone(),
            })
            .collect(),
        cautions: vec![say!(
            "Start it by hand before any tool; a new washer where there was one."
        )],
    })
}

fn pass_view(
    pass: &Pass,
    bolts: usize,
    adapter: Option<Adapter>,
    tool: Option<ToolClass>,
    unit: Unit,
) -> Result<PassView, Problem> {
    let how = if bolts >= 2 {
        term!("Crosswise to")
    } else {
        term!("To")
    };
    let (words, torque_nm) = match pass.what {
        PassKind::ByHand if bolts >= 2 => (
            say!("By hand first: every bolt started and run down, no tool that drives."),
            None,
        ),
        PassKind::ByHand => (say!("By hand first: no tool that drives."), None),
        PassKind::Rising { torque_nm } | PassKind::Full { torque_nm } => (
            format!("{how} {}", with_nm(torque_nm, unit)),
            Some(torque_nm),
        ),
        PassKind::LastRound { torque_nm } => (
            say!("Once more round at {}", with_nm(torque_nm, unit)),
            Some(torque_nm),
        ),
        PassKind::Angle { angle_deg } if bolts >= 2 => (
            say!(
                "Crosswise on by {}°, each in one go, with an angle gauge or a mark on its head",
                show_number(angle_deg)
            ),
            None,
        ),
        PassKind::Angle { angle_deg } => (
            say!(
                "On by {}° in one go, with an angle gauge or a mark on its head",
                show_number(angle_deg)
            ),
            None,
        ),
    };
    let set_nm = match (torque_nm, adapter) {
        (Some(nm), Some(adapter)) => Some(adapter.set_for(NewtonMetres(nm)).map_err(again)?.get()),
        _ => None,
    };
    let scale_words = torque_nm.zip(tool).and_then(|(nm, tool)| {
        let least = tool.least_nm()?;
        (set_nm.unwrap_or(nm) < least - 1e-9).then(|| {
            say!(
                "Below this tool's scale, which begins at {}: take a smaller tool for this pass.",
                with_nm(least, unit)
            )
        })
    });
    Ok(PassView {
        scale_words,
        words,
        torque_nm,
        set_nm,
        set_words: set_nm.map(|nm| say!("Set the wrench to {}", with_nm(nm, unit))),
        by_hand: pass.what == PassKind::ByHand,
    })
}

/// How far off the tool can be at the full torque, and what that is at the bolt.
fn tool_words(
    torque: NewtonMetres,
    tool: ToolClass,
    adapter: Option<Adapter>,
    unit: Unit,
) -> Result<String, Problem> {
    let set = match adapter {
        Some(adapter) => adapter.set_for(torque).map_err(again)?,
        None => torque,
    };
    let u = match tool_uncertainty(set, tool) {
        Ok(u) => u,
        Err(below @ ToolError::BelowScale { .. }) => return Ok(below.to_string()),
        Err(other) => return Err(again(other)),
    };
    // Rectangular: the half width is √3 standard uncertainties.
    let share = 3.0_f64.sqrt() * u.get() / set.get();
    let nm = torque.get();
    let [low, high] = [1.0 - share, 1.0 + share].map(|part| unit.from_base(nm * part));
    let [low, high] = outwards(low, high, 1);
    Ok(say!(
        "The tool is within ± {} %: {} to {} {} reach the bolt.",
        show_number((share * 1000.0).round() / 10.0),
        show_number(low),
        show_number(high),
        unit.symbol()
    ))
}

/// As fine as a wrench is read: a tenth.
fn short(nm: f64, unit: Unit) -> String {
    show_number((unit.from_base(nm) * 10.0).round() / 10.0)
}

/// In the unit that was typed, and in N·m where that is another.
pub(crate) fn with_nm(nm: f64, unit: Unit) -> String {
    let typed = format!("{} {}", short(nm, unit), unit.symbol());
    if unit == Unit::NewtonMetre {
        typed
    } else {
        format!("{typed} ({} N·m)", short(nm, Unit::NewtonMetre))
    }
}

fn in_units(torque: NewtonMetres) -> String {
    [
        Unit::NewtonMetre,
        Unit::PoundForceFoot,
        Unit::PoundForceInch,
        Unit::KilogramForceMetre,
    ]
    .map(|unit| {
        let value = show_number(unit.from_base(torque.get()));
        format!("{value} {}", unit.symbol())
    })
    .join(" = ")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 10 N·m = 7.37562 lbf·ft = 88.50746 lbf·in = 1.019716 kgf·m: exact
    /// definitions of the pound, foot and standard gravity (NIST SP 811 app. B).
    #[test]
    fn a_torque_is_told_in_all_its_units() {
        assert_eq!(
            in_units(NewtonMetres(10.0)),
            "10 N·m = 7.376 lb-ft = 88.51 lb-in = 1.02 kgf·m"
        );
        assert_eq!(with_nm(10.0, Unit::PoundForceInch), "88.5 lb-in (10 N·m)");
    }
}
