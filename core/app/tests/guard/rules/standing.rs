//! Rule 6. A part stands as the worst of its newest readings says, until it is replaced; what
//! explained a code stays explained by the part that was replaced.

use std::collections::BTreeSet;

use swarfbook_app::view::{ComponentView, ExplainView, JobView, ReadingVerdict, ReadingView};
use swarfbook_job::fact::{Fact, ReadingKind};
use swarfbook_job::procedure::Evidence;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::{Screens, Told, texts};
use super::STANDING;

/// One of the newest readings, one a quantity, of the part that is in the car now is out of spec.
pub fn is_out(part: &ComponentView) -> bool {
    ReadingKind::ALL.iter().any(|quantity| {
        let mut newest = part.readings.iter().rev();
        newest
            .find(|reading| {
                reading.quantity == *quantity && !reading.of_replaced && says_something(reading)
            })
            .is_some_and(|reading| reading.verdict == ReadingVerdict::OutOfSpec)
    })
}

/// To ground a number without limits says that there is no short.
fn says_something(reading: &ReadingView) -> bool {
    match reading.verdict {
        ReadingVerdict::TakeAgain => false,
        ReadingVerdict::NoSpec => reading.quantity == ReadingKind::Insulation,
        _ => true,
    }
}

pub fn check(told: &Told) -> Vec<Found> {
    told.screens.iter().flat_map(in_screens).collect()
}

fn in_screens(screens: &Screens) -> Vec<Found> {
    let job = &screens.job;
    let out: Vec<&ComponentView> = job.components.iter().filter(|part| is_out(part)).collect();
    let mut found = Vec::new();
    for part in &job.components {
        if is_out(part) != (part.standing == Some(ReadingVerdict::OutOfSpec)) {
            found.push(Found {
                rule: STANDING,
                place: "job/components/standing".into(),
                sentence: format!("{}: {:?}", part.name, part.standing),
                why: format!("its newest readings say out of spec: {}", is_out(part)),
            });
        }
    }
    let Some(first) = out.first() else {
        return found;
    };
    let all_good = match screens.language {
        Language::En => "All that was tested is in spec",
        Language::De => "Alles Geprüfte ist in Ordnung",
        Language::Es => "Todo lo probado está dentro de límites",
    };
    for one in texts("job", job) {
        if one.text.contains(all_good) {
            found.push(Found {
                rule: STANDING,
                place: one.place,
                sentence: one.text,
                why: format!("{} is out of spec by its newest readings", first.name),
            });
        }
    }
    for want in job
        .stages
        .iter()
        .flat_map(|s| &s.steps)
        .flat_map(|step| &step.wants)
    {
        if !matches!(
            want.want.evidence,
            Evidence::Replace {
                electrical: true,
                ..
            }
        ) {
            continue;
        }
        for part in &out {
            if !want
                .offers
                .iter()
                .any(|offer| offer.value == part.entry.to_string())
            {
                found.push(Found {
                    rule: STANDING,
                    place: "job/the step where a part is replaced".into(),
                    sentence: format!("{:?}", want.offers),
                    why: format!(
                        "{} is out of spec by its newest readings, and is not offered",
                        part.name
                    ),
                });
            }
        }
    }
    found
}

/// What is wrong between the view before a line and the one after it. What a part explained before
/// it was replaced is explained from then on: by the codes that name it, until a line is taken back
/// or the codes or the limits are others.
pub fn step(
    fact: &Fact,
    before: &JobView,
    after: &JobView,
    explained: &mut BTreeSet<String>,
) -> Vec<Found> {
    match fact {
        Fact::PartReplaced { replacement, .. } => {
            let part = before
                .components
                .iter()
                .find(|part| Some(part.entry) == replacement.component);
            let explains = before.explains.iter().filter(|was| {
                let names = part.is_some_and(|part| {
                    part.as_found == Some(ReadingVerdict::OutOfSpec)
                        && part.codes.contains(&was.code)
                });
                names && is_explained(was)
            });
            explained.extend(explains.map(|was| was.code.clone()));
        }
        Fact::SpecEntered { .. } | Fact::CodesRead { .. } => explained.clear(),
        _ => {}
    }
    let lost = explained.iter().filter(|code| {
        let mut now = after.explains.iter();
        !now.any(|now| now.code == **code && is_explained(now))
    });
    lost.map(|code| Found {
        rule: STANDING,
        place: "job/explains".into(),
        sentence: format!("{:?}", after.explains),
        why: format!("{code} was explained by a part that was replaced"),
    })
    .collect()
}

fn is_explained(code: &ExplainView) -> bool {
    ["explains", "erklärt ihn", "lo explica"].contains(&code.verdict_words.as_str())
}
