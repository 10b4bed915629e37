//! Rule 4. A line keeps for ever the name, device, time with its zone and unit that it was
//! written with; a job is told by the version of the procedure that it was opened with.

use swarfbook_words::Language;

use super::super::Found;
use super::super::shop::Shop;
use super::super::told::{Copy, Screens, Told};
use super::KEPT;

pub fn check(shop: &Shop, told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    for screens in &told.screens {
        found.extend(lines(shop, screens));
    }
    // What a copy without names touches is the rule of the names.
    for copy in told.copies.iter().filter(|copy| copy.leave_out.nothing()) {
        found.extend(sources(shop, copy));
        found.extend(version(shop, copy));
        found.extend(behind(told, copy));
    }
    found.extend(own_words(told));
    found
}

fn fault(place: String, sentence: String, why: String) -> Found {
    Found {
        rule: KEPT,
        place,
        sentence,
        why,
    }
}

fn lines(shop: &Shop, screens: &Screens) -> Vec<Found> {
    let mut found = Vec::new();
    for line in &screens.log {
        let Some(written) = shop.written.iter().find(|w| w.entry == line.entry) else {
            continue;
        };
        let place = format!("log {:?}", screens.language);
        if line.by != written.by {
            found.push(fault(
                place.clone(),
                format!("{} ({})", line.words, line.by),
                format!("{:?} wrote it", written.by),
            ));
        }
        if line.at != written.at {
            found.push(fault(
                place.clone(),
                line.at.clone(),
                format!("it was written at {}", written.at),
            ));
        }
        if screens.language == Language::En
            && let Some(words) = &written.words
            && line.words != *words
        {
            found.push(fault(
                place,
                line.words.clone(),
                format!("it was written as {words:?}"),
            ));
        }
    }
    found
}

fn sources(shop: &Shop, copy: &Copy) -> Vec<Found> {
    let mut found = Vec::new();
    for (entry, source) in copy.content["sources"].as_object().into_iter().flatten() {
        let Some(written) = shop.written.iter().find(|w| w.entry.to_string() == *entry) else {
            continue;
        };
        let place = format!("content {:?}/sources/{}", copy.language, source["what"]);
        let by = source["by"].as_str().unwrap_or_default();
        if by != written.by {
            found.push(fault(
                place.clone(),
                by.to_owned(),
                format!("{:?} wrote it", written.by),
            ));
        }
        let at = source["at"].as_str().unwrap_or_default();
        if at != written.at {
            found.push(fault(
                place,
                at.to_owned(),
                format!("it was written at {}", written.at),
            ));
        }
    }
    found
}

fn version(shop: &Shop, copy: &Copy) -> Vec<Found> {
    let opened = shop.jobs.last().expect("one is open");
    let said = copy.content["made"]["procedure"]
        .as_str()
        .unwrap_or_default();
    let ends = format!(" {}", opened.version);
    if said.ends_with(&ends) {
        return Vec::new();
    }
    vec![fault(
        format!("content {:?}/made", copy.language),
        said.to_owned(),
        format!("the job was opened by version {}", opened.version),
    )]
}

/// A reason leads to the count that says it, not to the photo, of each photo that shows its pieces.
fn behind(told: &Told, copy: &Copy) -> Vec<Found> {
    let Some(wear) = &told.screens(copy.language).job.wear else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let reasons = copy.content["wear"]["reasons"].as_array();
    for (said, reason) in reasons.into_iter().flatten().zip(&wear.reasons) {
        let from = said["said"]["from"].as_array().into_iter().flatten();
        let from: Vec<&str> = from.filter_map(|entry| entry.as_str()).collect();
        let mut wrong = |why: String| {
            found.push(fault(
                format!("content {:?}/wear/reasons", copy.language),
                said["said"]["words"].to_string(),
                why,
            ));
        };
        for photo in &told.state.photos {
            if from.contains(&photo.stamp.entry.to_string().as_str()) {
                wrong("it leads to a photo, which says nothing of pieces".into());
            }
            let shows = reason.pieces.iter().any(|p| p.photo == photo.stamp.entry);
            let census = photo.census_stamp.as_ref().map(|s| s.entry.to_string());
            if shows && !census.is_some_and(|census| from.contains(&census.as_str())) {
                wrong(format!(
                    "it does not lead to the count of photo {}",
                    photo.stamp.entry
                ));
            }
        }
    }
    found
}

/// Words of a later version of the shop's procedure in a job that was opened by an earlier one.
fn own_words(told: &Told) -> Vec<Found> {
    let job = &told.screens(Language::En).job;
    let all = super::super::told::texts("job", job);
    all.into_iter()
        .filter(|one| one.text.contains("zsecondz"))
        .map(|one| {
            fault(
                one.place,
                one.text,
                "the job was opened by the version before".into(),
            )
        })
        .collect()
}
