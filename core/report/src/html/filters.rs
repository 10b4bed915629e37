//! How values become text in the templates.

use chrono::{DateTime, FixedOffset, Timelike};
use minijinja::{Environment, Error, ErrorKind, Output, State, Value};
use swarfbook_measure::unit::show_number;

use crate::plot::escape;
use crate::words::Words;

/// Escapes all that is not markup of ours, control characters too.
pub(super) fn format_safely(
    out: &mut Output,
    state: &mut State,
    value: &Value,
) -> Result<(), Error> {
    match value.as_str() {
        Some(text) if !value.is_safe() => Ok(out.write_str(&escape(text))?),
        _ => minijinja::escape_formatter(out, state, value),
    }
}

pub(super) fn add(env: &mut Environment<'static>, words: &Words) {
    env.add_filter("own", own);
    env.add_filter("number", number);
    env.add_filter("whole", whole);
    let months = words.clone();
    env.add_filter("when", move |text: &str| when(text, &months));
    let fills = words.clone();
    env.add_function("fill", move |path: &str, values: Value| {
        fill(&fills, path, &values)
    });
}

/// Words of others inside a sentence of ours: their direction must not turn ours.
fn own(text: &str) -> Value {
    Value::from_safe_string(format!("<bdi>{}</bdi>", escape(text)))
}

/// Ends of a count's interval: whole pieces, as a reader counts.
fn whole(number: f64) -> String {
    format!("{number:.0}")
}

fn number(number: f64) -> String {
    show_number(number)
}

/// "25 November 2026, 15:05" from RFC 3339.
fn when(text: &str, words: &Words) -> Result<String, Error> {
    let at: DateTime<FixedOffset> = text.parse().map_err(|_| {
        Error::new(
            ErrorKind::InvalidOperation,
            format!("{text} is not a time of RFC 3339"),
        )
    })?;
    Ok(show_when(at, words))
}

/// "25 November 2026, 15:05".
pub(crate) fn show_when(at: DateTime<FixedOffset>, words: &Words) -> String {
    format!("{}, {:02}:{:02}", words.day(at), at.hour(), at.minute())
}

/// A text of the words with its places filled by escaped values.
fn fill(words: &Words, path: &str, values: &Value) -> Result<Value, Error> {
    let mut filled: Vec<(String, String)> = Vec::new();
    for name in values.try_iter()? {
        let value = values.get_item(&name)?;
        let text = if value.is_safe() {
            value.to_string()
        } else {
            escape(&value.to_string())
        };
        filled.push((name.to_string(), text));
    }
    let pairs: Vec<(&str, &str)> = filled
        .iter()
        .map(|(name, value)| (name.as_str(), value.as_str()))
        .collect();
    Ok(Value::from_safe_string(words.fill(path, &pairs)))
}
