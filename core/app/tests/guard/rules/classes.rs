//! Rule 9. What a class of debris is called is the same in the app and in the report: by the
//! one table of the core, in the language that is spoken.

use swarfbook_job::census::DebrisClass;
use swarfbook_job::class_table::ClassRow;
use swarfbook_words::{Language, in_language};

use super::super::Found;
use super::super::told::{Copy, Screens, Told};
use super::CLASSES;

pub fn check(told: &Told) -> Vec<Found> {
    let screens = told.screens.iter().flat_map(in_screens);
    screens
        .chain(told.copies.iter().flat_map(in_copy))
        .collect()
}

fn names(class: DebrisClass, language: Language) -> [&'static str; 3] {
    in_language(language, || {
        let row = ClassRow::of(class);
        [row.name, row.one, row.many]
    })
}

fn in_screens(screens: &Screens) -> Vec<Found> {
    let counts = screens.photos.iter().flat_map(|photo| &photo.counts);
    counts
        .filter_map(|count| {
            let [name, ..] = names(count.class, screens.language);
            (count.label != name).then(|| Found {
                rule: CLASSES,
                place: format!("photos {:?}/counts", screens.language),
                sentence: count.label.clone(),
                why: format!("the table calls it {name:?}"),
            })
        })
        .collect()
}

/// A class that was counted is called on the page by one of its names.
fn in_copy(copy: &Copy) -> Vec<Found> {
    let page: Vec<String> = copy.page.iter().map(|section| section.text()).collect();
    let page = page.join("\n").to_lowercase();
    let photos = copy.content["photos"].as_array().into_iter().flatten();
    let counts = photos.flat_map(|photo| photo["counts"].as_array().into_iter().flatten());
    counts
        .filter(|count| count["n"].as_u64().is_some_and(|n| n > 0))
        .filter_map(|count| {
            let class: DebrisClass = serde_json::from_value(count["class"].clone()).ok()?;
            let names = names(class, copy.language);
            let called = names.iter().any(|name| page.contains(&name.to_lowercase()));
            (!called).then(|| Found {
                rule: CLASSES,
                place: format!("page {:?}", copy.language),
                sentence: count.to_string(),
                why: format!("the page calls it none of {names:?}"),
            })
        })
        .collect()
}
