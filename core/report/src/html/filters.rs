//! How values become text in the templates.

use chrono::{DateTime, FixedOffset, Timelike};
use minijinja::value::Kwargs;
use minijinja::{Environment, Error, ErrorKind, Output, State, Value};
use swarfbook_measure::unit::show_number;
use swarfbook_words::fixed;

use crate::plot::escape;
use crate::ties::ties;
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
    env.add_filter("to_mm", to_mm);
    env.add_filter("tied", tied);
    env.add_filter("ended", ended);
    env.add_filter("clipped", clipped);
    env.add_filter("opening", opening);
    env.add_filter("within", |text: &str| {
        swarfbook_words::within(text).to_string()
    });
    let months = *words;
    env.add_filter("when", move |text: &str| when(text, &months));
    let said = *words;
    env.add_function("say", move |id: &str, values: Kwargs| {
        say(said, id, &values)
    });
}

/// Words of others inside a sentence of ours: their direction must not turn ours.
fn own(text: &str) -> Value {
    Value::from_safe_string(format!("<bdi>{}</bdi>", escape(text)))
}

/// A length in mm with two decimals, wherever it stands.
fn to_mm(mm: f64) -> String {
    fixed(mm, 2)
}

/// Words in which no line ends between a number and its unit.
fn tied(text: &str) -> Value {
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    for tie in ties(text) {
        out.push_str(&escape(text.get(from..tie.start).unwrap_or_default()));
        let one = escape(text.get(tie.clone()).unwrap_or_default());
        out.push_str(&format!("<span class=\"u\">{one}</span>"));
        from = tie.end;
    }
    out.push_str(&escape(text.get(from..).unwrap_or_default()));
    Value::from_safe_string(out)
}

/// A text of at most so many letters, cut behind a word: the letter has room for no more,
/// and the annex has the whole.
fn clipped(text: &str, most: usize) -> String {
    let text = text.trim();
    if text.chars().count() <= most {
        return text.to_owned();
    }
    let head: String = text.chars().take(most.saturating_sub(1)).collect();
    let whole = head.rfind(' ').filter(|at| *at > head.len() / 2);
    let cut = head.get(..whole.unwrap_or(head.len())).unwrap_or(&head);
    format!("{}…", cut.trim_end_matches([' ', ',', ';', '.']))
}

/// A text as it begins a sentence.
fn opening(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// The full stop that a text still wants: what somebody typed may end with one.
fn ended(text: &str) -> &'static str {
    let ends = |text: &str| text.ends_with(['.', '!', '?', '…', ':']);
    if ends(text.trim_end()) { "" } else { "." }
}

/// Ends of a count's interval: whole pieces, as a reader counts.
fn whole(number: f64) -> String {
    format!("{number:.0}")
}

fn number(number: f64) -> String {
    show_number(number)
}

/// "25 November 2026, 15:05 (UTC+1)" from RFC 3339.
fn when(text: &str, words: &Words) -> Result<String, Error> {
    let at: DateTime<FixedOffset> = text.parse().map_err(|_| {
        Error::new(
            ErrorKind::InvalidOperation,
            format!("{text} is not a time of RFC 3339"),
        )
    })?;
    Ok(show_when(at, words))
}

/// "25 November 2026, 15:05 (UTC+1)".
pub(crate) fn show_when(at: DateTime<FixedOffset>, words: &Words) -> String {
    format!(
        "{}, {:02}:{:02} ({})",
        words.day(at),
        at.hour(),
        at.minute(),
        zone(*at.offset())
    )
}

/// "UTC+1", "UTC-3:30", "UTC": how far the clock was from world time.
pub fn zone(offset: FixedOffset) -> String {
    let minutes = offset.local_minus_utc() / 60;
    let sign = if minutes < 0 { '-' } else { '+' };
    match (minutes.abs() / 60, minutes.abs() % 60) {
        (0, 0) => "UTC".to_owned(),
        (hours, 0) => format!("UTC{sign}{hours}"),
        (hours, minutes) => format!("UTC{sign}{hours}:{minutes:02}"),
    }
}

/// A message with its values. Values are escaped, and a whole that has some is safe; a plain one
/// is escaped where it stands.
pub(crate) fn say(words: Words, id: &str, values: &Kwargs) -> Result<Value, Error> {
    let mut filled: Vec<(&str, String)> = Vec::new();
    for name in values.args() {
        let value: Value = values.get(name)?;
        let text = match value.is_safe() {
            true => value.to_string(),
            false => escape(&value.to_string()),
        };
        filled.push((name, text));
    }
    let pairs: Vec<(&str, &str)> = filled
        .iter()
        .map(|(name, text)| (*name, text.as_str()))
        .collect();
    let said = words.fill(id, &pairs);
    Ok(match pairs.is_empty() {
        true => Value::from(said),
        false => Value::from_safe_string(said),
    })
}
