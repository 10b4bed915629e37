//! The two sentences at the top of the report, and the advice in full.
//!
//! Rules over what is known, in a fixed order, gravest first: what makes
//! driving unsafe is never hidden behind good news. It never says that the car
//! is mended: the score advises, the road decides. Common practice, no
//! published source.

mod advise;

use swarfbook_job::fact::AdviceChoice;
pub use swarfbook_job::procedure::ComplaintNow;
use swarfbook_wear::Band;

use crate::words::Words;

pub use advise::{Why, advise};

/// What the answer is made from.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Situation {
    /// The advice that stands (the technician's decision, else the tool's);
    /// `None` when the pan was not judged.
    pub stands: Option<AdviceChoice>,
    /// Distance to the next look with its unit, "10,000 km"; only used with
    /// [`AdviceChoice::Watch`].
    pub look_again_after: Option<String>,
    /// The band of the score; `None` when there is none.
    pub band: Option<Band>,
    /// Coolant or water in the fluid.
    pub milky: bool,
    /// A code or the complaint is not explained yet.
    pub not_explained: bool,
    /// All steps of the work are done or left out.
    pub finished: bool,
    /// How many things are still off the car.
    pub still_off: u32,
    /// The last leak check saw a leak.
    pub leaks: bool,
    /// The fluid's level was looked at and is not right.
    pub level_wrong: bool,
    /// Electrical parts that read out of their limits and were not replaced, by name.
    pub parts_out: Vec<String>,
    /// What the tool advises now; `None` when the pan was not judged.
    pub advised: Option<AdviceChoice>,
    /// The technician's decision, where it is not what the tool advises, in a sentence with why.
    pub overruled: Option<String>,
    /// The road test; `None` before there was one.
    pub complaint_now: Option<ComplaintNow>,
}

/// The two sentences.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sentences {
    /// Can it be saved?
    pub can_it_be_saved: String,
    /// What should I do?
    pub what_to_do: String,
    /// That and why the technician decided otherwise than the tool advises.
    pub overruled: Option<String>,
}

/// Answers the two questions, one sentence each.
pub fn answer(situation: &Situation, words: &Words) -> Sentences {
    let distance = situation.look_again_after.as_deref().unwrap_or_default();
    Sentences {
        can_it_be_saved: words.get(saved(situation)).to_owned(),
        what_to_do: words.fill(to_do(situation), &[("distance", distance)]),
        overruled: situation.overruled.clone(),
    }
}

impl Situation {
    fn still_there(&self) -> bool {
        matches!(
            self.complaint_now,
            Some(ComplaintNow::Same | ComplaintNow::Worse)
        )
    }

    /// The pan speaks for opening the gearbox, whatever was decided.
    pub fn is_worn(&self) -> bool {
        self.advised == Some(AdviceChoice::OpenUp)
            || self.stands == Some(AdviceChoice::OpenUp)
            || self.band >= Some(Band::Heavy)
    }

    /// Something speaks against driving on as if nothing were: nothing calm may be said.
    pub fn is_grave(&self) -> bool {
        self.is_worn()
            || self.milky
            || self.still_off > 0
            || self.leaks
            || self.level_wrong
            || !self.parts_out.is_empty()
    }

    /// Something is still to be found.
    fn fault_is_open(&self) -> bool {
        self.not_explained || self.still_there()
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
    let distance = situation.look_again_after.is_some();
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
