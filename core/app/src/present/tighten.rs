//! A tightening planned: the order drawn, the passes with what to set.

use swarfbook_job::fact::{AdapterUsed, TorqueTool};
use swarfbook_job::fold::{JobState, PartState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::input;
use swarfbook_measure::torque::{
    Adapter, Finish, Pass, PassKind, Plan, Thread, ToolClass, ToolError, TorqueDoubt, check_angle,
    cross_sequence, doubt, most_nm, plan, thread_of_size, tool_uncertainty,
};
use swarfbook_measure::unit::{NewtonMetres, Quantity, Unit, Units, outwards, show_number};
use swarfbook_words::{say, term};

use crate::command::TighteningAsked;
use crate::problem::Problem;
use crate::view::{BoltView, PassView, TighteningView};

/// Width to height of the pan that is drawn where no places were tapped.
const DRAWN_ASPECT: f64 = 1.4;
/// More bolts than any pan has.
const MOST_BOLTS: u32 = 60;

/// Where the bolts are, and how that is known.
struct Places {
    at: Vec<[f64; 2]>,
    photo: Option<EntryId>,
    words: String,
}

/// Plans what is asked for; writes nothing.
pub(crate) fn planned(
    state: &JobState,
    asked: &TighteningAsked,
    units: Units,
) -> Result<TighteningView, Problem> {
    let places = places(state, asked)?;
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
        bolts: drawn(&places.at),
        aspect: aspect(&places.at),
        photo: places.photo,
        places_words: places.words,
        passes,
        cautions,
    })
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

/// The thread of what is tightened, by the sizes that were noted when it came off: the
/// smallest of several, since all get the same torque. `None` where no size is known.
pub(crate) fn thread(state: &JobState, what: &str) -> Option<Thread> {
    let pan = pan_step(state);
    let of_pan = |p: &&PartState| {
        is_fastener(p) && (Some(p.part.step.as_str()) == pan || at_the_pan(&p.part.place))
    };
    let many = is_many(what);
    let sizes = state
        .parts
        .iter()
        .filter(|p| {
            if many {
                of_pan(p)
            } else {
                is_same_plug(what, p)
            }
        })
        .filter_map(|p| thread_of_size(&p.part.size));
    sizes.min_by(|a, b| most_nm(*a).total_cmp(&most_nm(*b)))
}

/// What came off is the plug that is tightened, in the words of either language: "drain
/// plug", "plug" of the "drain", "Ablassschraube".
fn is_same_plug(what: &str, part: &PartState) -> bool {
    const PLUG: [&str; 4] = ["plug", "stopfen", "stopper", "schraube"];
    const WHICH: [[&str; 2]; 3] = [["drain", "ablass"], ["level", "stand"], ["fill", "füll"]];
    let what = what.to_lowercase();
    let noted = format!("{} {}", part.part.item, part.part.place).to_lowercase();
    let has = |text: &str, words: &[&str]| words.iter().any(|word| text.contains(word));
    let is_plug = has(&what, &PLUG) && has(&noted, &PLUG);
    is_plug
        && WHICH
            .iter()
            .any(|which| has(&what, which) && has(&noted, which))
}

/// Bolts, in either language that the app speaks.
fn is_many(what: &str) -> bool {
    let what = what.to_lowercase();
    ["bolt", "schraube"].iter().any(|word| what.contains(word))
}

/// In the words of either language, since the log keeps what the technician wrote.
fn at_the_pan(place: &str) -> bool {
    let place = place.to_lowercase();
    ["pan", "wanne"].iter().any(|word| place.contains(word))
}

/// The step at which the pan was photographed, and its bolts came off.
fn pan_step(state: &JobState) -> Option<&str> {
    state
        .photos
        .iter()
        .find(|p| p.subject == swarfbook_job::fact::PhotoSubject::Pan)
        .map(|p| p.step.as_str())
}

/// An adapter as the bench takes it.
pub(crate) fn adapter(used: AdapterUsed) -> Adapter {
    Adapter {
        lever_mm: used.lever_mm,
        adapter_mm: used.adapter_mm,
        angle_deg: used.angle_deg,
    }
}

/// A torque tool as the bench takes it.
pub(crate) fn tool(used: TorqueTool) -> ToolClass {
    match used {
        TorqueTool::Scale { most_nm } => ToolClass::Iso6789 { most_nm },
        TorqueTool::Percent { percent } => ToolClass::Entered { percent },
    }
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

/// By the words of either language, since the log keeps what the technician wrote.
fn is_fastener(part: &&PartState) -> bool {
    let item = part.part.item.to_lowercase();
    ["bolt", "screw", "nut", "schraube", "mutter"]
        .iter()
        .any(|word| item.contains(word))
}

/// Places tapped on the photo that shows most of them; else a count, drawn.
fn places(state: &JobState, asked: &TighteningAsked) -> Result<Places, Problem> {
    let nowhere = Places {
        at: Vec::new(),
        photo: None,
        words: String::new(),
    };
    if !is_many(&asked.what) {
        return Ok(nowhere);
    }
    let tapped = |photo: EntryId| -> Vec<[f64; 2]> {
        state
            .parts
            .iter()
            .filter(is_fastener)
            .filter(|p| p.part.photo == Some(photo))
            .flat_map(|p| p.part.at_px.iter().copied())
            .collect()
    };
    let best = state
        .photos
        .iter()
        .map(|photo| (photo.stamp.entry, tapped(photo.stamp.entry)))
        .max_by_key(|(_, at)| at.len())
        .filter(|(_, at)| at.len() >= 2);
    let at_the_pan = || -> u32 {
        let pan = pan_step(state);
        let off = state.parts.iter().filter(is_fastener);
        off.filter(|p| Some(p.part.step.as_str()) == pan)
            .map(|p| p.part.count)
            .sum()
    };
    match (best, asked.bolts) {
        (Some((photo, at)), None) => Ok(Places {
            words: say!("{} bolts, where you tapped them on the photo.", at.len()),
            photo: Some(photo),
            at,
        }),
        (_, count) => match count.unwrap_or_else(at_the_pan) {
            0 => Ok(nowhere),
            count @ 2..=MOST_BOLTS => Ok(Places {
                words: say!(
                    "{} bolts, drawn evenly round a pan. Where yours differs, hold to the rule: from the middle outwards, crosswise, the corners last.",
                    count
                ),
                photo: None,
                at: around(count),
            }),
            count => Err(again(say!(
                "{} bolts can't be. A pan has 2 to {}.",
                count,
                MOST_BOLTS
            ))),
        },
    }
}

/// On the rim of a pan that is wider than high, clockwise from the upper left corner; width
/// 1.4, height 1. One in each corner, the rest as evenly along the sides as it goes, each
/// with its like across; an odd one more on the upper side.
fn around(count: u32) -> Vec<[f64; 2]> {
    let (w, h) = (DRAWN_ASPECT, 1.0);
    let Some(beside) = count.checked_sub(4) else {
        // Too few for the corners: along the middle.
        let share = |i: u32| f64::from(i) / f64::from(count.saturating_sub(1).max(1));
        return (0..count).map(|i| [w * share(i), 0.5 * h]).collect();
    };
    let pairs = beside / 2;
    let gap = |side: f64, between: u32| side / f64::from(between + 1);
    let uneven = |long: &u32| (gap(w, *long) - gap(h, pairs - long)).abs();
    let long = (0..=pairs)
        .min_by(|a, b| uneven(a).total_cmp(&uneven(b)))
        .unwrap_or(pairs);
    let (upper, short) = (long + beside % 2, pairs - long);
    let along = |from: [f64; 2], to: [f64; 2], between: u32| {
        (0..=between).map(move |i| {
            let share = f64::from(i) / f64::from(between + 1);
            [0, 1].map(|axis: usize| from[axis] + share * (to[axis] - from[axis]))
        })
    };
    let corners = [[0.0, 0.0], [w, 0.0], [w, h], [0.0, h]];
    let [a, b, c, d] = corners;
    along(a, b, upper)
        .chain(along(b, c, short))
        .chain(along(c, d, long))
        .chain(along(d, a, short))
        .collect()
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

/// Places as shares of the picture, each with its turn.
fn drawn(at: &[[f64; 2]]) -> Vec<BoltView> {
    let (low, span) = bounds(at);
    let turns = cross_sequence(at);
    at.iter()
        .enumerate()
        .map(|(index, p)| BoltView {
            x: (p[0] - low[0]) / span[0],
            y: (p[1] - low[1]) / span[1],
            turn: turns
                .iter()
                .position(|i| usize::try_from(*i).is_ok_and(|i| i == index))
                .and_then(|turn| u32::try_from(turn + 1).ok())
                .unwrap_or(0),
        })
        .collect()
}

fn aspect(at: &[[f64; 2]]) -> f64 {
    let (_, span) = bounds(at);
    (span[0] / span[1]).clamp(0.4, 2.5)
}

/// Corner and size of the places' box; a row of bolts has some height too.
fn bounds(at: &[[f64; 2]]) -> ([f64; 2], [f64; 2]) {
    let of = |axis: usize| {
        let values = at.iter().map(|p| p[axis]);
        let low = values.clone().fold(f64::INFINITY, f64::min);
        let high = values.fold(f64::NEG_INFINITY, f64::max);
        (low, high - low)
    };
    let ((x, w), (y, h)) = (of(0), of(1));
    let least = (w.max(h) / 4.0).max(f64::MIN_POSITIVE);
    ([x, y], [w.max(least), h.max(least)])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bolts_of_a_count_stand_evenly_on_the_rim() {
        for count in [4, 5, 12, 13, 20, 60] {
            let at = around(count);
            assert_eq!(at.len(), count as usize);
            for [x, y] in &at {
                let on_rim = [0.0, DRAWN_ASPECT].iter().any(|e| (x - e).abs() < 1e-9)
                    || [0.0, 1.0].iter().any(|e| (y - e).abs() < 1e-9);
                assert!(on_rim, "{count}: {x} {y}");
            }
        }
        for count in 2..=MOST_BOLTS {
            let turns: std::collections::BTreeSet<u32> =
                drawn(&around(count)).iter().map(|b| b.turn).collect();
            assert_eq!(turns, (1..=count).collect());
        }
    }

    /// From the middle outwards, crosswise, the corners last (common practice, no published
    /// source): each even bolt is across from the one before it, exactly where the pan is
    /// drawn in pairs.
    #[test]
    fn a_drawn_pan_is_tightened_crosswise_and_its_corners_last() {
        for count in 10..=20_u32 {
            let at = around(count);
            let mut bolts: Vec<(u32, [f64; 2])> = drawn(&at)
                .iter()
                .zip(&at)
                .map(|(bolt, [x, y])| (bolt.turn, [x - DRAWN_ASPECT / 2.0, y - 0.5]))
                .collect();
            bolts.sort_by_key(|(turn, _)| *turn);
            let out = |[x, y]: [f64; 2]| x.hypot(y);
            let corner = out([DRAWN_ASPECT / 2.0, 0.5]);
            for (turn, place) in &bolts {
                let is_corner = out(*place) > corner - 1e-9;
                assert!(
                    !is_corner || *turn > count / 2,
                    "{count}: a corner comes {turn}."
                );
            }
            assert!(out(bolts[0].1) < 0.6, "{count}: begins in the middle");
            for pair in bolts.chunks_exact(2) {
                let [[ax, ay], [bx, by]] = [pair[0].1, pair[1].1];
                let cosine = (ax * bx + ay * by) / out([ax, ay]) / out([bx, by]);
                let apart = cosine.clamp(-1.0, 1.0).acos().to_degrees();
                let least = if count % 2 == 0 { 179.9 } else { 100.0 };
                assert!(apart >= least, "{count}: {pair:?} are {apart}° apart");
            }
        }
    }

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
