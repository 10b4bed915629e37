//! Rule 5. A copy without names differs from the full one in the people's fields alone, each
//! replaced by a word that says so; no other text is touched.

use serde_json::Value;

use super::super::Found;
use super::super::told::{Copy, Told};
use super::NAMES;

/// What names people or the car, and what is about the making of the copy itself: the copies
/// that were made first are lines of those made later.
const FIELDS: [&str; 8] = [
    "/customer",
    "/go_ahead/words",
    "/car/plate",
    "/car/vin",
    "/left_out",
    // The first copy's own line is among those that the second is made from.
    "/letter/number",
    "/made",
    "/log",
];

pub fn check(told: &Told) -> Vec<Found> {
    let mut found = Vec::new();
    for copy in told.copies.iter().filter(|copy| !copy.leave_out.nothing()) {
        if let Some(whole) = told.whole(copy.language) {
            let place = format!("content without names {:?}", copy.language);
            compare(&place, "", &whole.content, &copy.content, &mut found);
            found.extend(still_named(copy));
        }
    }
    found
}

fn compare(place: &str, path: &str, whole: &Value, without: &Value, found: &mut Vec<Found>) {
    if whole == without || FIELDS.iter().any(|field| path.starts_with(field)) {
        return;
    }
    match (whole, without) {
        (Value::Object(a), Value::Object(b)) => {
            for name in a
                .keys()
                .chain(b.keys().filter(|name| !a.contains_key(*name)))
            {
                let (a, b) = (a.get(name), b.get(name));
                // The report that was made first is a line of the second.
                let null = Value::Null;
                let path = format!("{path}/{name}");
                compare(place, &path, a.unwrap_or(&null), b.unwrap_or(&null), found);
            }
        }
        // Who only made a copy is named in those made after it.
        (Value::Array(a), Value::Array(b))
            if path == "/technicians" && a.iter().all(|name| b.contains(name)) => {}
        (Value::Array(a), Value::Array(b)) if a.len() == b.len() => {
            for (at, (a, b)) in a.iter().zip(b).enumerate() {
                compare(place, &format!("{path}/{at}"), a, b, found);
            }
        }
        _ => {
            // A text that holds a name is there whole, or a word that says so is.
            if says_left_out(without) {
                return;
            }
            found.push(Found {
                rule: NAMES,
                place: format!("{place}{path}"),
                sentence: without.to_string(),
                why: format!("the full copy has {whole}"),
            });
        }
    }
}

fn says_left_out(value: &Value) -> bool {
    let text = value.as_str().unwrap_or_default();
    // "[name left out]", "[text left out: it names the customer]".
    [
        "left out]",
        "left out:",
        "weggelassen]",
        "weggelassen:",
        "omitido]",
        "omitida]",
        "omitido:",
        "…",
    ]
    .iter()
    .any(|word| text.contains(word))
}

/// A field of a person that says nothing in its place.
fn still_named(copy: &Copy) -> Vec<Found> {
    let go_ahead = copy.content["go_ahead"]["words"].as_str();
    go_ahead
        .filter(|words| {
            !["left out]", "weggelassen]", "omitido]"]
                .iter()
                .any(|word| words.contains(word))
        })
        .map(|words| Found {
            rule: NAMES,
            place: format!("content without names {:?}/go_ahead", copy.language),
            sentence: words.to_owned(),
            why: "no word says that a name is left out".into(),
        })
        .into_iter()
        .collect()
}
