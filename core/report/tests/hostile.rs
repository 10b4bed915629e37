//! Hostile words in every string of the content: nothing gets out of its place.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;

use scraper::{Html, Selector};
use serde_json::Value;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

/// Fields whose strings are names of lines, hashes, times or words of ours.
const NOT_WORDS: [&str; 18] = [
    "from", "entry", "deciding", "photo", "copy", "job", "hash", "at", "class", "size", "band",
    "verdict", "urgency", "advised", "chosen", "form", "lang", "heads",
];

/// Puts `words` into every string that a person could have written.
fn poison(tree: &mut Value, words: &str, count: &mut usize) {
    match tree {
        Value::String(text) => {
            *text = words.to_owned();
            *count += 1;
        }
        Value::Array(items) => items.iter_mut().for_each(|item| poison(item, words, count)),
        Value::Object(fields) => {
            for (name, value) in fields {
                // Codes stand under these names too, as lists.
                let line = ["before", "after"].contains(&name.as_str()) && value.is_string();
                let opaque = line || (NOT_WORDS.contains(&name.as_str()) && !holds_words(value));
                if !opaque {
                    poison(value, words, count);
                }
            }
        }
        _ => {}
    }
}

/// A tree under such a name may still hold words (a piece's `size` is numbers).
fn holds_words(value: &Value) -> bool {
    value.is_object() && value.get("words").is_some()
}

fn poisoned(words: &str) -> Content {
    let mut tree = serde_json::to_value(common::content()).unwrap();
    let mut count = 0;
    poison(&mut tree, words, &mut count);
    assert!(count > 200, "only {count} strings were reached");
    serde_json::from_value(tree).unwrap()
}

/// Every element with its attributes' names; what hostile words must not change.
fn shape(html: &str) -> Vec<String> {
    let page = Html::parse_document(html);
    assert!(page.errors.is_empty(), "{:?}", page.errors);
    page.select(&Selector::parse("*").unwrap())
        .map(|element| {
            let names: Vec<&str> = element.value().attrs().map(|(name, _)| name).collect();
            format!("{} {}", element.value().name(), names.join(" "))
        })
        .collect()
}

#[test]
fn no_words_can_add_a_tag_or_an_attribute() {
    let plain = render(&poisoned("plain words"), &Photos::new()).unwrap();
    let expected = shape(&plain);
    for words in [
        "<script>alert(1)</script>",
        "</title></style></textarea><img src=x onerror=alert(1)>",
        "\" onload=\"alert(1)\" x=\"",
        "' onload='alert(1)' x='",
        "{{ 7 * 7 }}{% raw %}{# no #}",
        "<!-- --><svg/onload=alert(1)>]]>",
        "&lt;b&gt;&#60;b&#62;",
        "{label}{n}{when}",
    ] {
        let html = render(&poisoned(words), &Photos::new()).unwrap();
        for raw in [
            "<script",
            "<img src=x",
            "<svg/",
            "onerror=alert(1)>",
            "<!-- ",
        ] {
            assert!(!html.contains(raw), "{words}: {raw}");
        }
        assert_eq!(shape(&html), expected, "{words}");
        assert!(!html.contains(">49<"), "a template was made of {words}");
        // It is still said, as it was written.
        let page = Html::parse_document(&html);
        let quote = page
            .select(&Selector::parse("blockquote").unwrap())
            .next()
            .unwrap();
        assert!(
            quote.text().collect::<String>().starts_with(words),
            "{words}"
        );
    }
}

#[test]
fn control_and_direction_characters_stay_in_their_place() {
    let html = render(
        &poisoned("a\u{202e}b\u{0}\u{7}\u{1b}[31m \u{1f697}\u{fe0f}"),
        &Photos::new(),
    )
    .unwrap();
    assert!(
        html.chars()
            .all(|c| !c.is_control() || c == '\n' || c == '\t')
    );
    shape(&html);
}

#[test]
fn ten_thousand_letters_in_every_field_are_set_out() {
    for unit in ["W", "\u{5d0}", "\u{1f697}"] {
        let html = render(&poisoned(&unit.repeat(10_000)), &Photos::new()).unwrap();
        shape(&html);
    }
}

#[test]
fn the_pdf_takes_whatever_is_written() {
    let long = "W\u{5d0}\u{1f697}".repeat(3_334);
    for words in [
        "<script>alert(1)</script>",
        "a\u{202e}b\u{0}\u{7}\u{1b}[31m \u{1f697}\u{fe0f}\u{feff}\u{fffe}",
        "(\\) endobj\n1 0 obj <</Type/Page>> stream",
        "\u{2028}\u{2029}\u{85}\r\n",
        "",
        &long,
    ] {
        let file = render_pdf(&poisoned(words), &Photos::new(), Paper::A4).unwrap();
        let read = lopdf::Document::load_mem(&file).unwrap();
        assert!(!read.get_pages().is_empty());
    }
}
