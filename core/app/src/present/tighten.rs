//! A tightening that was planned, in words: the order drawn, the passes with what to set.

use swarfbook_job::fold::JobState;
use swarfbook_judge::tighten::{
    self, Bolt, MOST_BOLTS, NoPlan, Places, Planned, PlannedPass, Reach, Wanted, aspect, drawn,
};
use swarfbook_measure::input;
use swarfbook_measure::torque::{PassKind, PlanCaution, TorqueDoubt};
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
    let torque = torque(&asked.torque, units.torque)?;
    let unit = torque.map_or(units.torque, |(_, unit)| unit);
    let Planned {
        places,
        doubt,
        passes,
        cautions,
        reach,
    } = tighten::planned(
        state,
        Wanted {
            what: &asked.what,
            bolts: asked.bolts,
            torque,
            angle_deg: angle(&asked.angle)?,
            rounds: asked.rounds,
            sealant: asked.sealant,
            adapter: asked.adapter,
            tool: asked.tool,
            sure: asked.sure,
        },
    )
    .map_err(no_plan)?;
    let many = places.at.len() >= 2;
    Ok(TighteningView {
        torque_nm: torque.map(|(t, _)| t.get()),
        torque_words: torque.map_or_else(String::new, |(t, _)| in_units(t)),
        doubt_instead: doubt
            .as_ref()
            .zip(torque)
            .and_then(|(doubt, (t, unit))| instead(doubt, t, unit)),
        doubt: doubt.map(|d| d.question),
        tool_words: reach
            .zip(torque)
            .map(|(reach, (t, _))| reach_words(&reach, t, unit)),
        bolts: drawn(&places.at).into_iter().map(bolt).collect(),
        aspect: aspect(&places.at),
        photo: places.photo,
        places_words: places_words(&places),
        passes: passes
            .into_iter()
            .map(|pass| pass_view(pass, many, unit))
            .collect(),
        cautions: cautions
            .into_iter()
            .map(|caution| PlanCaution::words(caution).to_owned())
            .collect(),
    })
}

fn no_plan(why: NoPlan) -> Problem {
    match why {
        NoPlan::Bolts(count) => again(say!(
            "count-bolts-cant-be-a-pan-has-2",
            count = count.0,
            most_bolts = MOST_BOLTS
        )),
        NoPlan::AngleAlone => angle_alone(),
        NoPlan::Passes(why) => again(why),
        NoPlan::Adapter(why) => again(why),
        NoPlan::Tool(why) => again(why),
    }
}

fn places_words(places: &Places) -> String {
    match (places.at.len(), places.photo) {
        (0, _) => String::new(),
        (count, Some(_)) => say!("count-bolts-where-you-tapped-them-on-the", count = count),
        (count, None) => say!("count-bolts-drawn-evenly-round-a-pan-where", count = count),
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
    again(say!("an-angle-is-turned-from-a-torque-the"))
}

/// The angle as typed, degrees.
fn angle(typed: &str) -> Result<Option<f64>, Problem> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    Ok(Some(input::parse_bare(typed).map_err(again)?))
}

fn again(why: impl std::fmt::Display) -> Problem {
    Problem::bad_input(why.to_string(), say!("enter-it-again"))
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

fn pass_view(pass: PlannedPass, many: bool, unit: Unit) -> PassView {
    let how = if many {
        term!("crosswise-to")
    } else {
        term!("to")
    };
    let words = match pass.what {
        PassKind::ByHand if many => {
            say!("by-hand-first-every-bolt-started-and-run")
        }
        PassKind::ByHand => say!("by-hand-first-no-tool-that-drives"),
        PassKind::Rising { torque_nm } | PassKind::Full { torque_nm } => {
            format!("{how} {}", with_nm(torque_nm, unit))
        }
        PassKind::LastRound { torque_nm } => {
            say!(
                "once-more-round-at-torque-nm",
                torque_nm = with_nm(torque_nm, unit)
            )
        }
        PassKind::Angle { angle_deg } if many => say!(
            "crosswise-on-by-angle-deg-deg-each-in",
            angle_deg = show_number(angle_deg)
        ),
        PassKind::Angle { angle_deg } => say!(
            "on-by-angle-deg-deg-in-one-go",
            angle_deg = show_number(angle_deg)
        ),
    };
    PassView {
        words,
        torque_nm: pass.what.torque_nm(),
        set_nm: pass.set_nm,
        set_words: pass
            .set_nm
            .map(|nm| say!("set-the-wrench-to-nm", nm = with_nm(nm, unit))),
        scale_words: pass.below_nm.map(|least| {
            say!(
                "below-this-tools-scale-which-begins-at-least",
                least = with_nm(least, unit)
            )
        }),
        by_hand: pass.what == PassKind::ByHand,
    }
}

/// How far off the tool can be at the full torque, and what that is at the bolt.
fn reach_words(reach: &Reach, torque: NewtonMetres, unit: Unit) -> String {
    let share = match reach {
        Reach::Within(share) => share,
        Reach::BelowScale(why) => return why.to_string(),
    };
    let nm = torque.get();
    let [low, high] = [1.0 - share, 1.0 + share].map(|part| unit.from_base(nm * part));
    let [low, high] = outwards(low, high, 1);
    say!(
        "the-tool-is-within-plus-minus-round-percent",
        round = show_number((share * 1000.0).round() / 10.0),
        low = show_number(low),
        high = show_number(high),
        unit = unit.symbol()
    )
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
