//! Rule 9. What a class of debris is called is the same in the app and in the report: by the
//! one table of the core, in the language that is spoken.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::class_table::ClassRow;
use swarfbook_words::in_language;

use super::super::Found;
use super::super::told::{Copy, Screens, Stroke, Told};
use super::CLASSES;

pub fn check(told: &Told) -> Vec<Found> {
    let screens = told.screens.iter().flat_map(in_screens);
    screens
        .chain(told.copies.iter().flat_map(in_copy))
        .collect()
}

fn in_screens(screens: &Screens) -> Vec<Found> {
    let counts = screens.photos.iter().flat_map(|photo| &photo.counts);
    counts
        .filter_map(|count| {
            let name = in_language(screens.language, || ClassRow::of(count.class).name);
            (count.label != name).then(|| Found {
                rule: CLASSES,
                place: format!("photos {:?}/counts", screens.language),
                sentence: count.label.clone(),
                why: format!("the table calls it {name:?}"),
            })
        })
        .collect()
}

/// Each class that a photo's counts name: letter, line, name and number in the photo's legend,
/// letter, name and meaning in the page's key; and the same in the print.
fn in_copy(copy: &Copy) -> Vec<Found> {
    let page: Vec<&str> = copy
        .page
        .iter()
        .flat_map(|section| &section.texts)
        .map(String::as_str)
        .collect();
    let print = copy.paper.as_deref().map(squeezed);
    let photos = copy.content["photos"].as_array().into_iter().flatten();
    let counts = photos.flat_map(|photo| photo["counts"].as_array().into_iter().flatten());
    let mut found = Vec::new();
    for count in counts {
        let Ok(class) = serde_json::from_value::<DebrisClass>(count["class"].clone()) else {
            continue;
        };
        let row = in_language(copy.language, || ClassRow::of(class));
        let mut miss = |place: &str, why: String| {
            found.push(Found {
                rule: CLASSES,
                place: format!("{place} {:?}", copy.language),
                sentence: count.to_string(),
                why,
            });
        };
        let legend = format!("{} {}: {} (", row.letter, row.name, count["n"]);
        let key = [
            format!("{} {}", row.letter, row.name),
            row.meaning.to_owned(),
        ];
        if !page.iter().any(|text| text.starts_with(&legend)) {
            miss("page", format!("no legend says {legend:?}"));
        }
        if !page.windows(2).any(|pair| pair == key) {
            miss("page", format!("the key does not say {key:?}"));
        }
        let line = Stroke {
            dashes: row.dashes.to_owned(),
            double: row.double,
        };
        let mut drawn = copy.lines.iter().filter(|(letter, _)| letter == row.letter);
        if copy.lines.is_empty() || drawn.any(|(_, drawn)| *drawn != line) {
            miss("page", format!("{} is not drawn as {line:?}", row.letter));
        }
        if let Some(print) = &print {
            // Name and meaning may stand in two columns, or on two sheets.
            for words in [legend].iter().chain(&key) {
                if !print.contains(&squeezed(words)) {
                    miss("print", format!("it does not say {words:?}"));
                }
            }
        }
    }
    found
}

/// Without blanks: a print breaks its lines anywhere.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}
