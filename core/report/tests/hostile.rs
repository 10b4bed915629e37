//! Hostile words in every string of the content: nothing gets out of its place.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;

use std::collections::BTreeMap;

use scraper::{Html, Selector};
use serde_json::Value;
use swarfbook_job::fact::{AnswerChoice, Asked};
use swarfbook_report::content::{Content, Overruled, Photos};
use swarfbook_report::reply::{Given, ReplyPage, WithdrawnPage, reply_page, withdrawn_page};
use swarfbook_report::{Paper, render, render_pdf};

/// Fields whose strings are names of lines, hashes, times or words of ours.
const NOT_WORDS: [&str; 19] = [
    "from", "entry", "deciding", "photo", "copy", "job", "hash", "at", "class", "size", "band",
    "verdict", "urgency", "advised", "chosen", "form", "lang", "heads", "of",
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

/// The sample with what it leaves empty filled, so that every field says something.
fn full() -> Content {
    let mut content = common::content();
    content.car.vin = Some("ZZZ00000000001234".into());
    content.left_out = vec!["Something is left out of this copy.".into()];
    content.codes.after.clone_from(&content.codes.before);
    if let Some(decision) = &mut content.decision {
        decision.reason = Some("the owner asked for it".into());
    }
    let said = content.answer.beside[0].clone();
    content.letter.overruled = Some(Overruled {
        tool: "open the gearbox".into(),
        tool_why: "It is worn.".into(),
        technician: "finish the work".into(),
        technician_why: "The owner asked for it.".into(),
        from: said.from.clone(),
    });
    for advice in &mut content.advice {
        advice.price = Some(said.clone());
    }
    content.evidence.reference = vec![said];
    content
}

/// Every field by its name and what it stands in, lists as one; whether it holds
/// anything anywhere.
fn fields(tree: &Value, path: &str, all: &mut BTreeMap<String, bool>) {
    match tree {
        Value::Object(named) => named
            .iter()
            .for_each(|(name, value)| fields(value, &format!("{path}/{name}"), all)),
        Value::Array(items) if !items.is_empty() => {
            items.iter().for_each(|item| fields(item, path, all));
        }
        other => {
            let holds = !(other.is_null() || other.as_array().is_some_and(Vec::is_empty));
            *all.entry(path.to_owned()).or_default() |= holds && other.as_str() != Some("");
        }
    }
}

#[test]
fn no_field_of_the_content_is_left_out_of_these_tests() {
    let mut tree = serde_json::to_value(full()).unwrap();
    // Named by ids, all of one form.
    tree["sources"] = tree["sources"]
        .as_object()
        .unwrap()
        .values()
        .cloned()
        .collect();
    let mut all = BTreeMap::new();
    fields(&tree, "", &mut all);
    // What is empty in one place and holds fields of its own in another is filled.
    let filled = |path: &str| {
        all.keys()
            .any(|other| other.starts_with(&format!("{path}/")))
    };
    let empty: Vec<_> = all
        .iter()
        .filter(|(path, holds)| !**holds && !filled(path))
        .map(|(path, _)| path)
        .collect();
    // Copies of photos, and close-ups, are bytes, checked by themselves.
    assert_eq!(empty, ["/letter/close_ups", "/photos/copy"]);
}

fn poisoned(words: &str) -> Content {
    let mut tree = serde_json::to_value(full()).unwrap();
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

/// The words of a print, as another library reads them.
fn printed(words: &str) -> String {
    let file = render_pdf(&poisoned(words), &Photos::new(), Paper::A4).unwrap();
    let read = lopdf::Document::load_mem(&file).unwrap();
    let pages: Vec<u32> = read.get_pages().into_keys().collect();
    read.extract_text(&pages).unwrap()
}

#[test]
fn a_print_says_where_it_can_not_say_what_was_written() {
    const SAID: &str = "can't be printed here";
    // Signs that a face has: they are printed, also with a shade of skin or a joiner.
    let faces = printed("ok \u{1f44d}\u{1f3fd} \u{1f697}\u{fe0f} \u{1f527}");
    for sign in ['\u{1f44d}', '\u{1f697}', '\u{1f527}'] {
        assert!(faces.contains(sign), "{sign}");
    }
    assert!(!faces.contains(SAID) && !faces.contains('\u{fffd}'));
    // Scripts that none has.
    for words in [
        "\u{13080}\u{13081}",
        "\u{4e2d}\u{6587}",
        "\u{1f9ed}\u{1fa70}\u{1f355}",
    ] {
        let page = render(&poisoned(words), &Photos::new()).unwrap();
        assert!(page.contains(words), "the page has it as written");
        assert!(printed(words).contains(SAID), "{words}");
    }
    for words in [
        "plain",
        "\u{5e9}\u{5dc}\u{5d5}\u{5dd}",
        "\u{416}\u{3bb}",
        "a\u{200d}\u{2028}b",
    ] {
        assert!(!printed(words).contains(SAID), "{words}");
    }
}

#[test]
fn the_customers_page_takes_whatever_is_written() {
    let shape = |words: &str| {
        let asked = Asked {
            lang: "en".into(),
            shop: words.into(),
            car: words.into(),
            short: vec![words.into(), words.into()],
            items: vec![words.into()],
            invented: true,
        };
        let given = vec![Some(Given {
            choice: Some(AnswerChoice::Ask),
            text: words.into(),
        })];
        let reply = reply_page(&ReplyPage {
            asked: &asked,
            given,
            name: words,
            code: words,
            problem: Some(words.to_owned()),
            thanks: true,
            superseded: true,
            way_on: true,
            newest: true,
            report: "",
            telephone: words,
        })
        .unwrap();
        let withdrawn = withdrawn_page(&WithdrawnPage {
            asked: &asked,
            at: None,
            reason: words,
            code: words,
            way_on: true,
        })
        .unwrap();
        [reply, withdrawn].map(|html| {
            assert!(
                !html.contains("<script") && !html.contains("<img"),
                "{words}"
            );
            let page = Html::parse_document(&html);
            let all = Selector::parse("*").unwrap();
            page.select(&all)
                .map(|element| {
                    let names: Vec<&str> = element.value().attrs().map(|(name, _)| name).collect();
                    format!("{} {}", element.value().name(), names.join(" "))
                })
                .collect::<Vec<_>>()
        })
    };
    let expected = shape("plain words");
    let long = "W\u{5d0}\u{1f697}".repeat(3_334);
    for words in [
        "<script>alert(1)</script>",
        "</textarea></title></style><img src=x onerror=alert(1)>",
        "\" onload=\"alert(1)\" x=\"",
        "' onload='alert(1)'",
        "{{ 7 * 7 }}{% raw %}",
        "a\u{202e}b \u{1f697}",
        &long,
    ] {
        assert_eq!(shape(words), expected, "{words}");
    }
}

/// A reader that takes a file for damaged looks for objects and tables among all its bytes.
#[test]
fn no_words_stand_in_a_pdf_as_an_object_or_a_table() {
    let words = "9 0 obj<</A 1>>endobj xref 0 1 trailer<</Root 9 0 R>>startxref 7";
    let file = render_pdf(&poisoned(words), &Photos::new(), Paper::A4).unwrap();
    let text = String::from_utf8_lossy(&file);
    for planted in ["9 0 obj<<", "xref 0 1", "trailer<</Root 9", "startxref 7"] {
        assert!(!text.contains(planted), "{planted}");
    }
    // Of the texts that can hold words of others, none is in plain letters.
    for name in ["/Title(", "/Alt(", "/ActualText(", "/E(", "/Contents("] {
        assert!(!text.contains(name), "{name}");
    }
}
