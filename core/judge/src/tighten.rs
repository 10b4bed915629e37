//! What is tightened: where its bolts are and in which order they are drawn, its thread, and
//! the tool.

use swarfbook_job::fact::{AdapterUsed, TorqueTool};
use swarfbook_job::fold::{JobState, PartState};
use swarfbook_job::id::EntryId;
use swarfbook_measure::torque::{
    AdapterError, Finish, Pass, PassKind, Plan, PlanCaution, PlanError, Thread, ToolError,
    TorqueDoubt, check_angle, cross_sequence, doubt, least_nm, most_nm, set_for, thread_of_size,
    tool_uncertainty,
};
use swarfbook_measure::unit::{NewtonMetres, Unit};

/// Width to height of the pan that is drawn where no places were tapped.
const DRAWN_ASPECT: f64 = 1.4;
/// More bolts than any pan has.
pub const MOST_BOLTS: u32 = 60;

/// Where the bolts are: nowhere for what is a single one.
#[derive(Debug, Clone, PartialEq)]
pub struct Places {
    /// Each bolt, in px of its photo or in heights of the drawn pan.
    pub at: Vec<[f64; 2]>,
    /// The photo that they were tapped on; `None` where they are drawn.
    pub photo: Option<EntryId>,
}

/// A count of bolts that no pan has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoSuchCount(pub u32);

/// Places tapped on the photo that shows most of them; else a count, drawn.
fn places(state: &JobState, what: &str, bolts: Option<u32>) -> Result<Places, NoSuchCount> {
    let nowhere = Places {
        at: Vec::new(),
        photo: None,
    };
    if !is_many(what) {
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
    match (best, bolts) {
        (Some((photo, at)), None) => Ok(Places {
            photo: Some(photo),
            at,
        }),
        (_, count) => match count.unwrap_or_else(at_the_pan) {
            0 => Ok(nowhere),
            count @ 2..=MOST_BOLTS => Ok(Places {
                photo: None,
                at: around(count),
            }),
            count => Err(NoSuchCount(count)),
        },
    }
}

/// By the words of either language, since the log keeps what the technician wrote.
fn is_fastener(part: &&PartState) -> bool {
    let item = part.part.item.to_lowercase();
    ["bolt", "screw", "nut", "schraube", "mutter"]
        .iter()
        .any(|word| item.contains(word))
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

/// The thread of what is tightened, by the sizes that were noted when it came off: the
/// smallest of several, since all get the same torque. `None` where no size is known.
pub fn thread(state: &JobState, what: &str) -> Option<Thread> {
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

/// A tightening that is asked for.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    /// What is tightened, as the procedure names it.
    pub what: &'a str,
    /// How many bolts; `None`: those tapped on a photo, or that came off the pan.
    pub bolts: Option<u32>,
    /// The maker's torque, and the unit that it was typed in; `None` to feel.
    pub torque: Option<(NewtonMetres, Unit)>,
    /// Turned on by so many degrees after the torque.
    pub angle_deg: Option<f64>,
    /// Passes up to the full torque.
    pub rounds: u32,
    /// A sealant sets: no last round.
    pub sealant: bool,
    /// An adapter on the wrench.
    pub adapter: Option<AdapterUsed>,
    /// The torque tool.
    pub tool: Option<TorqueTool>,
    /// The technician was asked about the torque and stands by it.
    pub sure: bool,
}

/// A tightening that is planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Planned {
    /// Where the bolts are.
    pub places: Places,
    /// A question about the torque, before it is believed.
    pub doubt: Option<TorqueDoubt>,
    /// Passes, first to last; none by a torque that is in doubt.
    pub passes: Vec<PlannedPass>,
    /// What to mind.
    pub cautions: Vec<PlanCaution>,
    /// What reaches the bolt by the tool; `None` without a tool, or a torque that is believed.
    pub reach: Option<Reach>,
}

/// One pass, with what to set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlannedPass {
    /// What is done.
    pub what: PassKind,
    /// What the wrench is set to, N·m, where an adapter makes it longer.
    pub set_nm: Option<f64>,
    /// Where the tool's scale begins, N·m, for a pass that is below it.
    pub below_nm: Option<f64>,
}

/// How well a tool sets a torque.
#[derive(Debug, Clone, PartialEq)]
pub enum Reach {
    /// Within this share of it either way.
    Within(f64),
    /// Its accuracy is not known there.
    BelowScale(ToolError),
}

/// Why a tightening can't be planned.
#[derive(Debug, Clone, PartialEq)]
pub enum NoPlan {
    /// No pan has so many bolts.
    Bolts(NoSuchCount),
    /// An angle is turned from a torque, and there is none.
    AngleAlone,
    /// The passes can't be.
    Passes(PlanError),
    /// The adapter can't be.
    Adapter(AdapterError),
    /// The tool can't set it.
    Tool(ToolError),
}

/// Plans a tightening; writes nothing.
///
/// # Errors
/// [`NoPlan`], with what to enter again.
pub fn planned(state: &JobState, wanted: Wanted<'_>) -> Result<Planned, NoPlan> {
    let places = places(state, wanted.what, wanted.bolts).map_err(NoPlan::Bolts)?;
    let finish = match wanted.angle_deg {
        Some(angle_deg) => {
            check_angle(angle_deg).map_err(NoPlan::Passes)?;
            Finish::Angle { angle_deg }
        }
        None if wanted.sealant => Finish::Sealant,
        None => Finish::LastRound,
    };
    if wanted.angle_deg.is_some() && wanted.torque.is_none() {
        return Err(NoPlan::AngleAlone);
    }
    let doubt = wanted
        .torque
        .filter(|_| !wanted.sure)
        .and_then(|(torque, unit)| doubt(torque, unit, thread(state, wanted.what)));
    // No tool is put to a bolt by a figure that is in doubt.
    let believed = wanted.torque.map(|(t, _)| t).filter(|_| doubt.is_none());
    let Plan { passes, cautions } =
        Plan::of(&places.at, believed, wanted.rounds, finish).map_err(NoPlan::Passes)?;
    Ok(Planned {
        passes: passes
            .iter()
            .map(|pass| planned_pass(pass, wanted))
            .collect::<Result<_, _>>()?,
        reach: believed
            .zip(wanted.tool)
            .map(|(torque, tool)| reach(torque, tool, wanted.adapter))
            .transpose()?,
        places,
        doubt,
        cautions,
    })
}

fn planned_pass(pass: &Pass, wanted: Wanted<'_>) -> Result<PlannedPass, NoPlan> {
    let torque_nm = pass.what.torque_nm();
    let set_nm = torque_nm
        .zip(wanted.adapter)
        .map(|(nm, adapter)| set_for(adapter, NewtonMetres(nm)).map(NewtonMetres::get))
        .transpose()
        .map_err(NoPlan::Adapter)?;
    let least = wanted.tool.and_then(least_nm);
    Ok(PlannedPass {
        what: pass.what,
        set_nm,
        below_nm: torque_nm
            .zip(least)
            .filter(|(nm, least)| set_nm.unwrap_or(*nm) < least - 1e-9)
            .map(|(_, least)| least),
    })
}

/// How far off the tool can be at the full torque.
fn reach(
    torque: NewtonMetres,
    tool: TorqueTool,
    adapter: Option<AdapterUsed>,
) -> Result<Reach, NoPlan> {
    let set = match adapter {
        Some(adapter) => set_for(adapter, torque).map_err(NoPlan::Adapter)?,
        None => torque,
    };
    match tool_uncertainty(set, tool) {
        // Rectangular: the half width is √3 standard uncertainties.
        Ok(u) => Ok(Reach::Within(3.0_f64.sqrt() * u.get() / set.get())),
        Err(below @ ToolError::BelowScale { .. }) => Ok(Reach::BelowScale(below)),
        Err(other) => Err(NoPlan::Tool(other)),
    }
}

/// A bolt as it is drawn: shares of the picture, and its turn from 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bolt {
    /// From the left.
    pub x: f64,
    /// From above.
    pub y: f64,
    /// When it is tightened.
    pub turn: u32,
}

/// Bolts in their picture, each with its turn.
pub fn drawn(at: &[[f64; 2]]) -> Vec<Bolt> {
    let (low, span) = bounds(at);
    let turns = cross_sequence(at);
    at.iter()
        .enumerate()
        .map(|(index, p)| Bolt {
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

/// Width to height of the picture that bolts are drawn in.
pub fn aspect(at: &[[f64; 2]]) -> f64 {
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
}
