//! Rule 9. What a class of debris is called is the same in the app and in the report.

use swarfbook_report::words::Words;

use super::super::Found;
use super::super::told::{Screens, Told};
use super::CLASSES;

pub fn check(told: &Told) -> Vec<Found> {
    told.screens.iter().flat_map(in_screens).collect()
}

fn in_screens(screens: &Screens) -> Vec<Found> {
    let words = Words::of(screens.language.tag()).expect("words");
    let mut found = Vec::new();
    for photo in &screens.photos {
        for count in &photo.counts {
            let class = serde_json::to_value(count.class).expect("data");
            let class = class.as_str().unwrap_or_default().to_owned();
            let names = ["one", "name"].map(|field| format!("class.{class}.{field}"));
            if !names
                .iter()
                .any(|path| words.find(path) == Some(count.label.as_str()))
            {
                found.push(Found {
                    rule: CLASSES,
                    place: format!("photos {:?}/counts", screens.language),
                    sentence: count.label.clone(),
                    why: format!("the report calls it {:?}", words.find(&names[0])),
                });
            }
        }
    }
    found
}
