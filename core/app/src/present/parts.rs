//! What came off, and tightening, in words.

use swarfbook_job::fact::{PartOff, Tightened};
use swarfbook_job::fold::PartState;
use swarfbook_measure::torque::set_for;
use swarfbook_measure::unit::{NewtonMetres, Quantity, Units, show_number};
use swarfbook_words::{say, shipped, term};

use super::tighten;
use crate::state::hand;
use crate::view::PartView;

pub(super) fn part(state: &PartState) -> PartView {
    let units = hand::units(&state.stamp);
    PartView {
        entry: state.stamp.entry,
        words: part_words(&state.part, state.part.count, units),
        count: state.part.count,
        off: state.off(),
        lost: state.lost,
        lost_words: (!state.lost_text.is_empty()).then(|| state.lost_text.join("; ")),
        photo: state.part.photo,
        at_px: state.part.at_px.clone(),
        mark: state.part.length_mm.map_or_else(
            || state.part.size.clone(),
            |mm| show_number(units.length.from_base(mm)),
        ),
    }
}

/// "4 × bolt M6 × 25 mm, front edge".
pub(crate) fn part_words(part: &PartOff, count: u32, units: Units) -> String {
    let mut words = if count == 1 {
        part.item.clone()
    } else {
        format!("{count} × {}", part.item)
    };
    if !part.size.is_empty() {
        words.push_str(&format!(" {}", part.size));
    }
    if let Some(mm) = part.length_mm {
        words.push_str(&format!(" × {}", units.show(mm, Quantity::Length)));
    }
    format!("{words}, {}", part.place)
}

pub(crate) fn tightened_words(tightened: &Tightened, units: Units) -> String {
    let how = match (tightened.torque_nm, tightened.angle_deg) {
        (Some(nm), Some(angle_deg)) => say!(
            "nm-and-angle-deg-deg-on-from-there",
            nm = units.show(nm, Quantity::Torque),
            angle_deg = show_number(angle_deg)
        ),
        (Some(nm), None) => units.show(nm, Quantity::Torque),
        (None, _) => say!("by-hand-to-feel"),
    };
    let over = tightened
        .bolts
        .map_or_else(String::new, |n| say!("crosswise-over-n-bolts", n = n));
    let last = if tightened.last_round == Some(true) {
        term!("and-a-last-round")
    } else {
        ""
    };
    say!(
        "what-by-hand-first-then-count-over-last",
        what = shipped(&tightened.what),
        count = say!("n-passes", n = tightened.passes),
        over = over,
        last = last,
        how = how,
        adapter = adapter_words(tightened, units)
    )
}

/// What the wrench was set to, where an adapter made it longer.
fn adapter_words(tightened: &Tightened, units: Units) -> String {
    let Some((used, nm)) = tightened.adapter.zip(tightened.torque_nm) else {
        return String::new();
    };
    match set_for(used, NewtonMetres(nm)) {
        Ok(set) => say!(
            "wrench-set-to-set-for-an-adapter-of",
            set = tighten::with_nm(set.get(), units.torque),
            adapter_mm = units.show(used.adapter_mm, Quantity::Length),
            angle_deg = show_number(used.angle_deg),
            lever_mm = units.show(used.lever_mm, Quantity::Length)
        ),
        Err(_) => String::new(),
    }
}
