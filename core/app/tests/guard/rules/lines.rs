//! Rule 2. Each line of the log that is not private is told in the report or counted as left
//! out; nothing that has a line is called not reached, not looked at or not answered.

use std::collections::BTreeSet;

use swarfbook_job::fact::{Fact, Moment};
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::EntryId;
use swarfbook_job::procedure::Evidence;
use swarfbook_report::words::Words;
use swarfbook_words::{Language, id};

use super::super::Found;
use super::super::shop::Shop;
use super::super::told::{Copy, Told};
use super::LINES;

pub fn check(shop: &Shop, told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    for copy in told.copies.iter().filter(|copy| copy.leave_out.nothing()) {
        found.extend(untold(told, copy));
        found.extend(typed(shop, told, copy));
        found.extend(denied(told, copy));
        found.extend(not_reached(told, copy));
    }
    found
}

fn live(state: &JobState) -> impl Iterator<Item = &LineState> {
    state
        .lines
        .iter()
        .filter(|line| line.retracted_by.is_none())
}

/// Lines about the book and not about the car, and those that hang on another that is not here.
fn is_of_the_car(state: &JobState, fact: &Fact) -> bool {
    match fact {
        Fact::Noted { private, .. } => !private,
        Fact::PhotoHinted { photo, .. }
        | Fact::CensusMade { photo, .. }
        | Fact::ParticleCorrected { photo, .. }
        | Fact::PhotoLinked { photo, .. }
        | Fact::CensusConfirmed { photo } => state.photo(*photo).is_some(),
        Fact::PartBack { part, .. } | Fact::PartLost { part, .. } => {
            state.parts.iter().any(|p| p.stamp.entry == *part)
        }
        Fact::SpecEntered { component, .. } | Fact::ReadingTaken { component, .. } => {
            state.component(*component).is_some()
        }
        _ => {
            let of_the_book = [
                "opened",
                "written_by",
                "written_in",
                "measured_with",
                "retracted",
                "step_settled",
                "report_made",
                "report_withdrawn",
                "report_shared",
                "customer_linked",
            ];
            !of_the_book.contains(&kind(fact).as_str())
        }
    }
}

pub fn kind(fact: &Fact) -> String {
    let tree = serde_json::to_value(fact).expect("data");
    tree["fact"].as_str().unwrap_or_default().to_owned()
}

/// Lines that are neither a source of the report nor among those that it counts as left out.
fn untold(told: &Told, copy: &Copy) -> Vec<Found> {
    let sources = copy.content["sources"].as_object();
    let named: BTreeSet<&str> = sources
        .into_iter()
        .flatten()
        .map(|(id, _)| id.as_str())
        .collect();
    let missing: Vec<&LineState> = live(&told.state)
        .filter(|line| {
            line.fact
                .as_ref()
                .is_some_and(|f| is_of_the_car(&told.state, f))
        })
        .filter(|line| !named.contains(line.stamp.entry.to_string().as_str()))
        .collect();
    let log = &copy.content["log"];
    let number = |name: &str| log[name].as_u64().unwrap_or(0);
    let untold = log["untold"].as_array().into_iter().flatten();
    let counted: u64 = untold.filter_map(|kind| kind["n"].as_u64()).sum();
    let place = |part: &str| format!("content {:?}/{part}", copy.language);
    let mut found = Vec::new();
    let (lines, told_one_by_one) = (number("lines"), number("told"));
    if lines != told_one_by_one + number("taken_back") + counted
        || told_one_by_one != named.len() as u64
    {
        found.push(Found {
            rule: LINES,
            place: place("log"),
            sentence: log.to_string(),
            why: format!(
                "told, taken back and left out do not add up, or {} are sources",
                named.len()
            ),
        });
    }
    let words = |line: &LineState| {
        let log = &told.screens(Language::En).log;
        let line = log.iter().find(|one| one.entry == line.stamp.entry);
        line.map(|line| line.words.clone()).unwrap_or_default()
    };
    let stands = |line: &LineState| {
        line.fact
            .as_ref()
            .is_some_and(|f| is_told(&told.state, line, f))
    };
    if missing.len() as u64 > counted {
        found.push(Found {
            rule: LINES,
            place: place("sources"),
            sentence: words(missing[0]),
            why: format!(
                "the line is neither told nor among the {counted} that are counted as left out"
            ),
        });
    } else if let Some(line) = missing.into_iter().find(|line| stands(line)) {
        found.push(Found {
            rule: LINES,
            place: place("sources"),
            sentence: words(line),
            why: "the line is the newest of its kind, and only counted as left out".into(),
        });
    }
    found
}

/// What must be told one by one: the newest on its matter, of what a reader would ask for.
fn is_told(state: &JobState, line: &LineState, fact: &Fact) -> bool {
    let entry = line.stamp.entry;
    match fact {
        Fact::Noted { private, .. } => {
            !private && state.notes.iter().any(|n| n.stamp.entry == entry)
        }
        Fact::Observed { .. } => state.observed.values().any(|o| o.stamp.entry == entry),
        // A number that was measured anew at the same step took its place.
        Fact::Measured { measured } => {
            let mut same = state
                .measured
                .iter()
                .filter(|m| m.step == measured.step && m.topic == measured.topic);
            same.next_back().is_some_and(|m| m.stamp.entry == entry)
        }
        Fact::CodesRead { .. } => state.codes.values().any(|read| read.stamp.entry == entry),
        // What was skipped and then done all the same is told as done.
        Fact::StepSkipped { step, .. } => {
            let mark = state.steps.get(step);
            mark.is_some_and(|mark| mark.stamp.entry == entry)
        }
        Fact::ReadingTaken { .. }
        | Fact::PartReplaced { .. }
        | Fact::PartOff { .. }
        | Fact::PartLost { .. }
        | Fact::Tightened { .. }
        | Fact::CustomerAnswered { .. } => true,
        _ => false,
    }
}

/// What was typed and counts stands on the page, where its line is told.
fn typed(shop: &Shop, told: &Told, copy: &Copy) -> Vec<Found> {
    let page: String = copy
        .page
        .iter()
        .map(|s| s.text())
        .collect::<Vec<_>>()
        .join("\n");
    let sources = copy.content["sources"].as_object();
    let named: BTreeSet<&str> = sources
        .into_iter()
        .flatten()
        .map(|(id, _)| id.as_str())
        .collect();
    let mut found = Vec::new();
    for line in live(&told.state) {
        let Some(fact) = line.fact.as_ref() else {
            continue;
        };
        let Some(written) = shop.written.iter().find(|w| w.entry == line.stamp.entry) else {
            continue;
        };
        let private = matches!(fact, Fact::Noted { private: true, .. });
        let Some(token) = &written.token else {
            continue;
        };
        let stands = page.contains(token.as_str());
        if private && stands {
            found.push(Found {
                rule: LINES,
                place: format!("page {:?}", copy.language),
                sentence: token.clone(),
                why: "it is of a private note".into(),
            });
        }
        // A later line of the kind took its place, or it is not of this report's kind.
        let told = named.contains(line.stamp.entry.to_string().as_str());
        if told && !stands && matches!(fact, Fact::Noted { private: false, .. }) {
            found.push(Found {
                rule: LINES,
                place: format!("page {:?}", copy.language),
                sentence: format!("{fact:?}"),
                why: "the note is a source, but its words stand nowhere".into(),
            });
        }
    }
    found
}

/// Sentences that say that there is nothing, where there is something.
fn denied(told: &Told, copy: &Copy) -> Vec<Found> {
    let state = &told.state;
    let words = Words::of(copy.language.tag());
    let about = |topic: &str| topic.starts_with("fluid_") || topic.starts_with("level_");
    let fluid = state.observed.values().any(|o| about(&o.topic))
        || state.measured.iter().any(|m| about(&m.topic))
        || state
            .notes
            .iter()
            .any(|n| !n.private && n.topic.as_deref().is_some_and(about));
    let read = state.photos.iter().any(|p| {
        p.subject.kind().is_some() && p.census.as_ref().is_some_and(|c| c.problem.is_none())
    });
    let denials = [
        (
            id!("report-page-found-none"),
            state.photos.iter().any(|p| p.subject.kind().is_some()),
        ),
        (
            id!("report-page-readings-none"),
            state.components.iter().any(|c| !c.readings.is_empty()),
        ),
        (id!("report-page-fluid-none"), fluid),
        (
            id!("report-page-done-none"),
            !state.replaced.is_empty() || !state.tightened.is_empty(),
        ),
        (id!("report-page-parts-none"), !state.parts.is_empty()),
        (id!("report-page-wear-none"), read),
        (
            id!("report-page-codes-none"),
            state.codes.contains_key(&Moment::Before)
                && state.codes.contains_key(&Moment::After)
                && state.codes.values().all(|read| !read.codes.is_empty()),
        ),
        (
            id!("report-page-codes-unread"),
            state.codes.contains_key(&Moment::Before) && state.codes.contains_key(&Moment::After),
        ),
        (
            id!("report-page-not-done-none"),
            // A step that was begun and then left out stands below that sentence.
            state
                .steps
                .values()
                .any(|step| matches!(step.mark, swarfbook_job::fold::Mark::Skipped(_)))
                && copy.content["begun"].as_array().is_none_or(Vec::is_empty),
        ),
    ];
    let mut found = Vec::new();
    for (path, there_is) in denials {
        if !there_is {
            continue;
        }
        let denial = words.get(path);
        for section in &copy.page {
            if section.texts.iter().any(|text| text == denial) {
                found.push(Found {
                    rule: LINES,
                    place: format!("page {:?}/{}", copy.language, section.name),
                    sentence: denial.to_owned(),
                    why: "the log has a line of it".into(),
                });
            }
        }
    }
    found
}

fn is_private(state: &JobState, entry: EntryId) -> bool {
    let mut notes = state.notes.iter();
    notes.any(|note| note.private && note.stamp.entry == entry)
}

/// A step at which something was written that is not private is not one that was not reached.
fn not_reached(told: &Told, copy: &Copy) -> Vec<Found> {
    let not_reached = match copy.language {
        Language::En => "not reached yet",
        Language::De => "noch nicht erreicht",
        Language::Es => "sin llegar todavía",
    };
    let Some(entry) = copy.content["not_done"]
        .as_array()
        .into_iter()
        .flatten()
        .find(|one| one["reason"] == not_reached)
    else {
        return Vec::new();
    };
    let named = entry["what"]["words"].as_str().unwrap_or_default();
    let named: Vec<&str> = named.split("; ").collect();
    let job = &told.screens(copy.language).job;
    let mut found = Vec::new();
    for step in job.stages.iter().flat_map(|stage| &stage.steps) {
        if !named.contains(&step.title.as_str()) {
            continue;
        }
        let open = step
            .lines
            .iter()
            .filter(|line| !is_private(&told.state, line.entry));
        let mut lines: Vec<String> = open.map(|line| line.words.clone()).collect();
        for want in &step.wants {
            let of_the_job = matches!(
                want.want.evidence,
                Evidence::Car
                    | Evidence::Complaint { .. }
                    | Evidence::Codes { .. }
                    | Evidence::GoAhead
                    | Evidence::Components
                    | Evidence::Decision
            );
            if of_the_job && want.have {
                lines.push(want.words.clone());
            }
        }
        if let Some(line) = lines.first() {
            found.push(Found {
                rule: LINES,
                place: format!("content {:?}/not_done", copy.language),
                sentence: format!("{}: {not_reached}", step.title),
                why: format!("the log has of it: {line}"),
            });
        }
    }
    found
}
