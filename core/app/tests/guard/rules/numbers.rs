//! Rule 3. A number is the same wherever it stands: intervals are rounded outwards, a total is
//! the sum of its parts, a magnet's cover stands with its interval, a limit with its photo.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use swarfbook_job::garwood::garwood;
use swarfbook_job::id::EntryId;
use swarfbook_words::Language;

use super::super::Found;
use super::super::told::{Copy, Sentence, Told, texts};
use super::NUMBERS;

pub fn check(told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    for screens in &told.screens {
        let mut all = texts("job", &screens.job);
        all.extend(texts("photos", &screens.photos));
        found.extend(covers(&all, screens.language));
    }
    for copy in &told.copies {
        found.extend(covers(
            &texts(&format!("content {:?}", copy.language), &copy.content),
            copy.language,
        ));
        found.extend(counts(told, copy));
        found.extend(sizes(copy));
        found.extend(kinds(told, copy));
        found.extend(score(told, copy));
        found.extend(limits(told, copy));
    }
    found
}

fn fault(place: String, sentence: impl Into<String>, why: String) -> Found {
    Found {
        rule: NUMBERS,
        place,
        sentence: sentence.into(),
        why,
    }
}

/// "covered 40 %" without "(27 to 56)" behind it.
fn covers(all: &[Sentence], language: Language) -> Vec<Found> {
    let mut found = Vec::new();
    for one in all {
        let text = one.text.as_str();
        let figure_behind = |words: &str| {
            let at = text.find(words)?;
            let end = text[at..].find(" %")? + at + " %".len();
            (end - at < 30).then_some(end)
        };
        let end = match language {
            Language::En => figure_behind("covered "),
            Language::De => figure_behind("bedeckt zu "),
            Language::Es => figure_behind("cubierta al "),
        };
        let Some(end) = end else { continue };
        if !text[end..].trim_start().starts_with('(') {
            found.push(fault(
                one.place.clone(),
                text,
                "a magnet's cover without its interval".into(),
            ));
        }
    }
    found
}

fn number(value: &Value) -> Option<f64> {
    match value {
        Value::Number(n) => n.as_f64(),
        Value::String(text) => text.parse().ok(),
        _ => None,
    }
}

/// Of each photo: its pieces are those of the screens, and the intervals hold the exact ones.
fn counts(told: &Told, copy: &Copy) -> Vec<Found> {
    let mut found = Vec::new();
    for photo in copy.content["photos"].as_array().into_iter().flatten() {
        let place = format!("content {:?}/photos/{}", copy.language, photo["title"]);
        let shown = told
            .screens(Language::En)
            .photos
            .iter()
            .find(|shown| photo["entry"] == shown.photo.entry.to_string());
        let mut pieces = 0;
        for count in photo["counts"].as_array().into_iter().flatten() {
            let n = count["n"].as_u64().unwrap_or(0) as u32;
            if count["class"] != "lint" {
                pieces += n;
            }
            let (lo, hi) = garwood(n, 0.90);
            let (Some(least), Some(most)) = (number(&count["lo"]), number(&count["hi"])) else {
                continue;
            };
            if least > lo + 1e-9 || most < hi - 1e-9 {
                found.push(fault(
                    place.clone(),
                    format!("{n} ({least} to {most})"),
                    format!("rounded inwards: the interval is {lo:.3} to {hi:.3}"),
                ));
            }
        }
        if let Some(summary) = shown.and_then(|shown| shown.photo.census.as_ref())
            && summary.problem.is_none()
            && summary.n != pieces
        {
            found.push(fault(
                place,
                format!("{pieces} pieces"),
                format!("the screen counts {}", summary.n),
            ));
        }
    }
    found
}

/// Each bar is the sum of its classes, and its interval holds the exact one.
fn sizes(copy: &Copy) -> Vec<Found> {
    let mut found = Vec::new();
    for bar in copy.content["sizes"].as_array().into_iter().flatten() {
        let place = format!("content {:?}/sizes/{}", copy.language, bar["label"]);
        let n = bar["n"].as_u64().unwrap_or(0);
        let parts = bar["by_class"].as_array().into_iter().flatten();
        let sum: u64 = parts.filter_map(|part| part["n"].as_u64()).sum();
        if sum != n {
            found.push(fault(
                place.clone(),
                format!("{n}"),
                format!("its parts are {sum}"),
            ));
        }
        let (lo, hi) = garwood(n as u32, 0.90);
        if let (Some(least), Some(most)) = (number(&bar["lo"]), number(&bar["hi"]))
            && (least > lo + 1e-9 || most < hi - 1e-9)
        {
            found.push(fault(
                place,
                format!("{n} ({least} to {most})"),
                format!("rounded inwards: the interval is {lo:.3} to {hi:.3}"),
            ));
        }
    }
    found
}

/// Of each class the table holds the pieces that the score's reasons count, at the least: what is
/// free of weight has no reason. With the pieces without a size it is what the sizes come to.
fn kinds(told: &Told, copy: &Copy) -> Vec<Found> {
    let screens = told.screens(Language::En);
    let mut by_reasons: BTreeMap<String, BTreeSet<(EntryId, u32)>> = BTreeMap::new();
    for of in screens.job.wear.iter().flat_map(|wear| &wear.reasons) {
        for pieces in &of.pieces {
            let photo = screens
                .photos
                .iter()
                .find(|shown| shown.photo.entry == pieces.photo);
            for number in &pieces.pieces {
                let piece = photo.and_then(|photo| {
                    let mut all = photo.particles.iter();
                    all.find(|piece| piece.index == *number)
                });
                let class = piece.map(|piece| serde_json::to_value(piece.class).expect("a class"));
                let class = class.and_then(|class| Some(class.as_str()?.to_owned()));
                let at = (pieces.photo, *number);
                by_reasons
                    .entry(class.unwrap_or_default())
                    .or_default()
                    .insert(at);
            }
        }
    }
    let table = copy.content["kinds"].as_array().into_iter().flatten();
    let table: BTreeMap<&str, u64> = table
        .filter_map(|kind| Some((kind["class"].as_str()?, kind["n"].as_u64()?)))
        .collect();
    let place = format!("content {:?}/kinds", copy.language);
    let mut found = Vec::new();
    for (class, pieces) in &by_reasons {
        let n = table.get(class.as_str()).copied().unwrap_or(0);
        if n < pieces.len() as u64 {
            found.push(fault(
                place.clone(),
                format!("{n} of {class}"),
                format!("the score counts {}", pieces.len()),
            ));
        }
    }
    let bars = copy.content["sizes"].as_array().into_iter().flatten();
    let sized: u64 = bars.filter_map(|bar| bar["n"].as_u64()).sum();
    let unsized_pieces = copy.content["unsized_pieces"].as_u64().unwrap_or(0);
    let all: u64 = table.values().sum();
    if sized + unsized_pieces != all {
        found.push(fault(
            place,
            format!("{all} pieces"),
            format!("by size {sized}, and {unsized_pieces} without a size"),
        ));
    }
    found
}

/// The score and its interval are those of the screen, the interval rounded outwards.
fn score(told: &Told, copy: &Copy) -> Vec<Found> {
    let Some(wear) = &told.screens(Language::En).job.wear else {
        return Vec::new();
    };
    let said = &copy.content["wear"];
    let place = format!("content {:?}/wear", copy.language);
    let (Some(score), Some(lo), Some(hi)) = (
        number(&said["score"]),
        number(&said["lo"]),
        number(&said["hi"]),
    ) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    if (score - wear.score).abs() > 0.5 + 1e-9 {
        found.push(fault(
            place.clone(),
            format!("{score}"),
            format!("the screen has {}", wear.score),
        ));
    }
    if lo > wear.lo + 1e-9 || hi < wear.hi - 1e-9 {
        found.push(fault(
            place,
            format!("{score}, likely {lo} to {hi}"),
            format!(
                "rounded inwards: the interval is {:.3} to {:.3}",
                wear.lo, wear.hi
            ),
        ));
    }
    found
}

/// What one photo can't show is not told of all of them.
fn limits(told: &Told, copy: &Copy) -> Vec<Found> {
    let smallest: Vec<f64> = told
        .state
        .photos
        .iter()
        .filter_map(|photo| photo.census.as_ref()?.smallest_mm)
        .collect();
    let differ = smallest.iter().any(|mm| (mm - smallest[0]).abs() > 1e-9);
    let of_all = ["In these photos", "In diesen Fotos"];
    let said = copy.content["photo_limits"]
        .as_array()
        .into_iter()
        .flatten();
    said.filter_map(Value::as_str)
        .filter(|text| differ && of_all.iter().any(|start| text.starts_with(start)))
        .map(|text| {
            fault(
                format!("content {:?}/photo_limits", copy.language),
                text,
                format!("the photos' own limits are {smallest:?} mm"),
            )
        })
        .collect()
}
