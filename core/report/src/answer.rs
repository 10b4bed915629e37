//! The two sentences at the top of the report, and the advice in full.
//!
//! Rules over what is known, in a fixed order, gravest first: what makes
//! driving unsafe is never hidden behind good news. It never says that the car
//! is mended: the score advises, the road decides. Common practice, no
//! published source.

mod advise;
mod mended;

use swarfbook_job::fact::AdviceChoice;
pub use swarfbook_job::procedure::ComplaintNow;
pub use swarfbook_judge::situation::Situation;
use swarfbook_wear::Band;

use crate::words::Words;

pub use advise::{Why, advise};
pub use mended::mended;

/// The two sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentences {
    /// Can it be saved?
    pub can_it_be_saved: String,
    /// What should I do?
    pub what_to_do: String,
}

/// Answers the two questions, one sentence each; `distance` to the next look with its unit,
/// "10,000 km", where there is one.
pub fn answer(situation: &Situation, distance: &str, words: &Words) -> Sentences {
    Sentences {
        can_it_be_saved: words.get(saved(situation)).to_owned(),
        what_to_do: words.fill(to_do(situation), &[("distance", distance)]),
    }
}

fn saved(situation: &Situation) -> &'static str {
    let band = situation.band;
    let Some(stands) = situation.stands else {
        return if situation.milky {
            "answer.saved_milky"
        } else {
            "answer.saved_unknown"
        };
    };
    match (stands, band) {
        (AdviceChoice::TestFirst, _) if situation.milky => "answer.saved_milky_first",
        _ if situation.milky => "answer.saved_milky",
        (AdviceChoice::OpenUp, Some(Band::Failing)) => "answer.saved_open_failing",
        (AdviceChoice::OpenUp, Some(Band::Heavy)) => "answer.saved_open_heavy",
        (AdviceChoice::OpenUp, _) => "answer.saved_open_other",
        (_, Some(Band::Heavy | Band::Failing)) => "answer.saved_heavy_anyway",
        _ if situation.advised == Some(AdviceChoice::OpenUp) => "answer.saved_open_other",
        (_, Some(Band::Active)) => "answer.saved_active",
        _ if !situation.parts_out.is_empty() => "answer.saved_part",
        _ if situation.still_there() => "answer.saved_still_there",
        (AdviceChoice::TestFirst, _) => "answer.saved_test_first",
        _ if situation.not_explained => "answer.saved_not_explained",
        (AdviceChoice::Watch, _) => "answer.saved_watch_calm",
        // Nothing scored is not a clean pan, whatever was decided.
        (AdviceChoice::CarryOn, None) => "answer.saved_unknown",
        (AdviceChoice::CarryOn, Some(Band::Clean | Band::Settled)) => "answer.saved_calm",
    }
}

fn to_do(situation: &Situation) -> &'static str {
    let grave = situation.milky || situation.band == Some(Band::Failing);
    let distance = situation.look_again_km.is_some();
    match situation.stands {
        Some(AdviceChoice::OpenUp) if situation.still_off > 0 => "answer.do_open_still_off",
        Some(AdviceChoice::OpenUp) if grave || situation.leaks || situation.level_wrong => {
            "answer.do_open_now"
        }
        Some(AdviceChoice::OpenUp) => "answer.do_open",
        _ if situation.still_off > 0 => "answer.do_still_off",
        _ if situation.leaks => "answer.do_leaks",
        Some(AdviceChoice::TestFirst) if situation.milky => "answer.do_milky_first",
        _ if situation.milky => "answer.do_milky",
        _ if situation.level_wrong => "answer.do_level",
        Some(AdviceChoice::TestFirst) => "answer.do_test_first",
        None if !situation.parts_out.is_empty() => "answer.do_part",
        None => "answer.do_unread",
        Some(AdviceChoice::CarryOn) if !situation.finished => "answer.do_finish",
        Some(AdviceChoice::Watch) if !situation.finished && distance => "answer.do_finish_look",
        Some(AdviceChoice::Watch) if !situation.finished => "answer.do_finish_look_soon",
        _ if situation.complaint_now == Some(ComplaintNow::Worse) => "answer.do_worse",
        // What the technician decided against the tool's advice stands in a sentence of its own.
        _ if situation.is_worn() => "answer.do_overruled",
        _ if !situation.parts_out.is_empty() => "answer.do_part",
        Some(AdviceChoice::CarryOn) if situation.fault_is_open() => "answer.do_cause",
        Some(AdviceChoice::Watch) if situation.fault_is_open() && distance => {
            "answer.do_cause_look"
        }
        Some(AdviceChoice::Watch) if situation.fault_is_open() => "answer.do_cause_look_soon",
        Some(AdviceChoice::Watch) if distance => "answer.do_look",
        Some(AdviceChoice::Watch) => "answer.do_look_soon",
        Some(AdviceChoice::CarryOn) => "answer.do_drive",
    }
}

#[cfg(test)]
mod tests;
