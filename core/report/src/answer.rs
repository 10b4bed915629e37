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
use swarfbook_words::id;

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
            id!("report-answer-saved-milky")
        } else {
            id!("report-answer-saved-unknown")
        };
    };
    match (stands, band) {
        (AdviceChoice::TestFirst, _) if situation.milky => id!("report-answer-saved-milky-first"),
        _ if situation.milky => id!("report-answer-saved-milky"),
        (AdviceChoice::OpenUp, Some(Band::Failing)) => id!("report-answer-saved-open-failing"),
        (AdviceChoice::OpenUp, Some(Band::Heavy)) => id!("report-answer-saved-open-heavy"),
        (AdviceChoice::OpenUp, _) => id!("report-answer-saved-open-other"),
        (_, Some(Band::Heavy | Band::Failing)) => id!("report-answer-saved-heavy-anyway"),
        _ if situation.advised == Some(AdviceChoice::OpenUp) => {
            id!("report-answer-saved-open-other")
        }
        (_, Some(Band::Active)) => id!("report-answer-saved-active"),
        _ if !situation.parts_out.is_empty() => id!("report-answer-saved-part"),
        _ if situation.still_there() => id!("report-answer-saved-still-there"),
        (AdviceChoice::TestFirst, _) => id!("report-answer-saved-test-first"),
        _ if situation.not_explained => id!("report-answer-saved-not-explained"),
        (AdviceChoice::Watch, _) => id!("report-answer-saved-watch-calm"),
        // Nothing scored is not a clean pan, whatever was decided.
        (AdviceChoice::CarryOn, None) => id!("report-answer-saved-unknown"),
        (AdviceChoice::CarryOn, Some(Band::Clean | Band::Settled)) => {
            id!("report-answer-saved-calm")
        }
    }
}

fn to_do(situation: &Situation) -> &'static str {
    let grave = situation.milky || situation.band == Some(Band::Failing);
    let distance = situation.look_again_km.is_some();
    match situation.stands {
        Some(AdviceChoice::OpenUp) if situation.still_off > 0 => {
            id!("report-answer-do-open-still-off")
        }
        Some(AdviceChoice::OpenUp) if grave || situation.leaks || situation.level_wrong => {
            id!("report-answer-do-open-now")
        }
        Some(AdviceChoice::OpenUp) => id!("report-answer-do-open"),
        _ if situation.still_off > 0 => id!("report-answer-do-still-off"),
        _ if situation.leaks => id!("report-answer-do-leaks"),
        Some(AdviceChoice::TestFirst) if situation.milky => id!("report-answer-do-milky-first"),
        _ if situation.milky => id!("report-answer-do-milky"),
        _ if situation.level_wrong => id!("report-answer-do-level"),
        Some(AdviceChoice::TestFirst) => id!("report-answer-do-test-first"),
        None if !situation.parts_out.is_empty() => id!("report-answer-do-part"),
        None => id!("report-answer-do-unread"),
        Some(AdviceChoice::CarryOn) if !situation.finished => id!("report-answer-do-finish"),
        Some(AdviceChoice::Watch) if !situation.finished && distance => {
            id!("report-answer-do-finish-look")
        }
        Some(AdviceChoice::Watch) if !situation.finished => {
            id!("report-answer-do-finish-look-soon")
        }
        _ if situation.complaint_now == Some(ComplaintNow::Worse) => id!("report-answer-do-worse"),
        // What the technician decided against the tool's advice stands in a sentence of its own.
        _ if situation.is_worn() => id!("report-answer-do-overruled"),
        _ if !situation.parts_out.is_empty() => id!("report-answer-do-part"),
        Some(AdviceChoice::CarryOn) if situation.fault_is_open() => id!("report-answer-do-cause"),
        Some(AdviceChoice::Watch) if situation.fault_is_open() && distance => {
            id!("report-answer-do-cause-look")
        }
        Some(AdviceChoice::Watch) if situation.fault_is_open() => {
            id!("report-answer-do-cause-look-soon")
        }
        Some(AdviceChoice::Watch) if distance => id!("report-answer-do-look"),
        Some(AdviceChoice::Watch) => id!("report-answer-do-look-soon"),
        Some(AdviceChoice::CarryOn) => id!("report-answer-do-drive"),
    }
}

#[cfg(test)]
mod tests;
