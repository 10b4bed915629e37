//! Rule 6. A part stands as the worst of its newest readings says, until it is replaced; what
//! explained a code stays explained by the part that was replaced.

use swarfbook_app::view::{ComponentView, JobView, ReadingVerdict};
use swarfbook_job::fact::{Fact, Quantity};
use swarfbook_job::procedure::Evidence;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::{Screens, Told, texts};
use super::STANDING;

/// One of its newest readings, one a quantity, is out of spec.
pub fn is_out(part: &ComponentView) -> bool {
    let all = [
        Quantity::Resistance,
        Quantity::Insulation,
        Quantity::Voltage,
        Quantity::Frequency,
        Quantity::Current,
        Quantity::DutyCycle,
    ];
    !part.replaced
        && all.iter().any(|quantity| {
            let mut newest = part.readings.iter().rev();
            newest
                .find(|reading| reading.quantity == *quantity && is_verdict(reading.verdict))
                .is_some_and(|reading| {
                    !matches!(
                        reading.verdict,
                        ReadingVerdict::InSpec | ReadingVerdict::TooCloseToCall
                    )
                })
        })
}

fn is_verdict(verdict: ReadingVerdict) -> bool {
    !matches!(verdict, ReadingVerdict::TakeAgain | ReadingVerdict::NoSpec)
}

pub fn check(told: &Told) -> Vec<Found> {
    told.screens.iter().flat_map(in_screens).collect()
}

fn in_screens(screens: &Screens) -> Vec<Found> {
    let job = &screens.job;
    let out: Vec<&ComponentView> = job.components.iter().filter(|part| is_out(part)).collect();
    let mut found = Vec::new();
    let Some(first) = out.first() else {
        return found;
    };
    let all_good = match screens.language {
        Language::De => "Alles Geprüfte ist in Ordnung",
        _ => "All that was tested is in spec",
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

/// What explained a code before a part was replaced explains it after.
pub fn step(fact: &Fact, before: &JobView, after: &JobView) -> Vec<Found> {
    if !matches!(fact, Fact::PartReplaced { .. }) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for was in &before.explains {
        let explains = ["explains", "erklärt ihn"].contains(&was.verdict_words.as_str());
        let now = after.explains.iter().find(|now| now.code == was.code);
        if explains && now.is_none_or(|now| now.verdict_words != was.verdict_words) {
            found.push(Found {
                rule: STANDING,
                place: "job/explains".into(),
                sentence: format!("{now:?}"),
                why: format!("before the part was replaced: {was:?}"),
            });
        }
    }
    found
}
