//! Each thing that is advised, with how soon and what happens if it is left.

use swarfbook_job::fact::{AdviceChoice, CostOf};
use swarfbook_wear::Band;
use swarfbook_words::id;

use super::{ComplaintNow, Situation};
use crate::content::{AdviceItem, Said, Urgency};
use crate::words::Words;

/// Why each thing is advised, with the lines it rests on; handed in, since only
/// the caller knows the log.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Why {
    /// Of the advice itself: the rules that fired.
    pub stands: Vec<Said>,
    /// Of the water.
    pub milky: Vec<Said>,
    /// Of the fault that is not explained or still there.
    pub fault: Vec<Said>,
    /// Of the leak.
    pub leak: Vec<Said>,
    /// Of the parts still off.
    pub still_off: Vec<Said>,
    /// Of the level.
    pub level: Vec<Said>,
    /// Of the parts out of their limits.
    pub parts_out: Vec<Said>,
}

/// What is advised, most urgent first; of two as urgent, what is least work first. `distance` as
/// for [`super::answer`].
pub fn advise(situation: &Situation, distance: &str, why: &Why, words: &Words) -> Vec<AdviceItem> {
    let item = |of, what: String, urgency, why: &[Said], if_left: &str| AdviceItem {
        of,
        price: None,
        what,
        urgency,
        why: why.to_vec(),
        if_left: words.get(if_left).to_owned(),
    };
    let said = |path: &str| words.get(path).to_owned();
    let mut items = Vec::new();
    if situation.still_off > 0 {
        items.push(item(
            CostOf::StillOff,
            said(id!("report-advise-still-off-what")),
            Urgency::BeforeDriving,
            &why.still_off,
            id!("report-advise-still-off-left"),
        ));
    }
    if situation.leaks {
        items.push(item(
            CostOf::Leak,
            said(id!("report-advise-leak-what")),
            Urgency::BeforeDriving,
            &why.leak,
            id!("report-advise-leak-left"),
        ));
    }
    if situation.level_wrong {
        items.push(item(
            CostOf::Level,
            said(id!("report-advise-level-what")),
            Urgency::BeforeDriving,
            &why.level,
            id!("report-advise-level-left"),
        ));
    }
    if situation.milky {
        items.push(item(
            CostOf::Milky,
            said(id!("report-advise-milky-what")),
            Urgency::BeforeDriving,
            &why.milky,
            id!("report-advise-milky-left"),
        ));
    }
    if !situation.parts_out.is_empty() {
        let parts = situation.parts_out.join(", ");
        items.push(item(
            CostOf::Parts,
            words.fill(id!("report-advise-part-what"), &[("parts", &parts)]),
            Urgency::Soon,
            &why.parts_out,
            id!("report-advise-part-left"),
        ));
    }
    if situation.fault_is_open() {
        let urgency = match situation.complaint_now {
            Some(ComplaintNow::Worse) => Urgency::BeforeDriving,
            _ => Urgency::Soon,
        };
        items.push(item(
            CostOf::Fault,
            said(id!("report-advise-fault-what")),
            urgency,
            &why.fault,
            id!("report-advise-fault-left"),
        ));
    }
    if let Some(stands) = situation.stands {
        let (what, urgency, left) = main(situation, distance, stands, words);
        let of = match stands {
            AdviceChoice::CarryOn => CostOf::CarryOn,
            AdviceChoice::Watch => CostOf::Watch,
            AdviceChoice::TestFirst => CostOf::TestFirst,
            AdviceChoice::OpenUp => CostOf::OpenUp,
        };
        items.push(item(of, what, urgency, &why.stands, left));
    }
    items.sort_by_key(|item| item.urgency);
    items
}

fn main(
    situation: &Situation,
    distance: &str,
    stands: AdviceChoice,
    words: &Words,
) -> (String, Urgency, &'static str) {
    match stands {
        AdviceChoice::OpenUp => (
            words.get(id!("report-advise-open-what")).to_owned(),
            if situation.band == Some(Band::Failing) || situation.milky {
                Urgency::BeforeDriving
            } else {
                Urgency::Soon
            },
            id!("report-advise-open-left"),
        ),
        AdviceChoice::TestFirst => (
            words.get(id!("report-advise-test-what")).to_owned(),
            if situation.milky || situation.band >= Some(Band::Heavy) {
                Urgency::BeforeDriving
            } else {
                Urgency::Soon
            },
            id!("report-advise-test-left"),
        ),
        AdviceChoice::Watch => (
            match situation.look_again_km {
                Some(_) => words.fill(id!("report-advise-watch-what"), &[("distance", distance)]),
                None => words.get(id!("report-advise-watch-soon-what")).to_owned(),
            },
            if situation.is_grave() {
                Urgency::Soon
            } else {
                Urgency::NextVisit
            },
            if situation.is_grave() {
                id!("report-advise-watch-grave-left")
            } else {
                id!("report-advise-watch-left")
            },
        ),
        AdviceChoice::CarryOn => (
            words.get(id!("report-advise-carry-what")).to_owned(),
            if situation.is_grave() {
                Urgency::Soon
            } else {
                Urgency::WhenItSuits
            },
            if situation.is_worn() {
                id!("report-advise-watch-grave-left")
            } else {
                id!("report-advise-carry-left")
            },
        ),
    }
}
