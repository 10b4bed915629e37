//! Rule 10. In no language do two marks stand in a row, or one behind a blank.

use super::super::Found;
use super::super::told::{Copy, Section, Told};
use super::MARKS;

const ENDS: [char; 6] = ['.', ',', ':', ';', '!', '?'];

pub fn check(told: &Told) -> Vec<Found> {
    told.copies.iter().flat_map(of_copy).collect()
}

fn of_copy(copy: &Copy) -> Vec<Found> {
    let pages = [Some(&copy.page), copy.answer_page.as_ref()];
    let sections = pages.into_iter().flatten().flatten();
    sections
        .flat_map(|section| of_section(copy, section))
        .collect()
}

fn of_section(copy: &Copy, section: &Section) -> Vec<Found> {
    let wrong = section
        .texts
        .iter()
        .filter_map(|text| Some((text, slip(&as_shown(text))?)));
    wrong
        .map(|(text, why)| Found {
            rule: MARKS,
            place: format!("{:?}/{}", copy.language, section.name),
            sentence: text.clone(),
            why,
        })
        .collect()
}

/// The page of the answer is not read as XML.
fn as_shown(text: &str) -> String {
    let signs = [
        ("&#39;", "'"),
        ("&quot;", "\""),
        ("&lt;", "<"),
        ("&gt;", ">"),
    ];
    let shown = signs.iter().fold(text.to_owned(), |text, (name, sign)| {
        text.replace(name, sign)
    });
    shown.replace("&amp;", "&")
}

/// What is wrong with the marks of a text.
fn slip(text: &str) -> Option<String> {
    let (mut last, mut blank) = (' ', false);
    for letter in text.chars() {
        if letter.is_whitespace() {
            if last == '(' {
                return Some("a blank behind a bracket".into());
            }
            blank = true;
            continue;
        }
        let ends = ENDS.contains(&letter);
        if ends && ENDS.contains(&last) {
            return Some(format!("{last} and {letter} in a row"));
        }
        if blank && last != ' ' && (ends || letter == ')') {
            return Some(format!("a blank before {letter}"));
        }
        (last, blank) = (letter, false);
    }
    None
}

#[test]
fn slips_are_seen() {
    for wrong in [
        "liest,: fehlt",
        "ohm.; Meter",
        "what?: none",
        "one , two",
        "( one)",
        "it. .",
    ] {
        assert!(slip(wrong).is_some(), "{wrong}");
    }
    for right in [
        "It is 12.5 mm (k = 2).",
        "¿Qué? No, nada.",
        "…",
        "Why? None.",
    ] {
        assert_eq!(slip(right), None);
    }
}
