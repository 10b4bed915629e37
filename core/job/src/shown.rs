//! Lines as they are folded. The door takes texts of a certain length; a line of another device
//! may hold up to [`MAX_ENTRY_BYTES`](crate::entry::MAX_ENTRY_BYTES). It is kept and passed on as
//! it is, and its longer texts count as far as the door would take them.

use serde_json::Value;
use swarfbook_words::{Language, in_language, say};

use crate::entry::{Entry, EntryError};
use crate::words::thousands;

/// The most characters of a text that is folded, shown or reported.
pub const MAX_TEXT_CHARS: usize = 20_000;

/// Reads canonical bytes, their longer texts cut, each with words at its end that say so.
///
/// # Errors
/// [`EntryError::Shape`].
pub fn read(bytes: &str) -> Result<Entry, EntryError> {
    if !may_hold_long_text(bytes) {
        return Ok(serde_json::from_str(bytes)?);
    }
    let mut value = serde_json::from_str(bytes)?;
    cut(&mut value);
    Ok(serde_json::from_value(value)?)
}

/// Whether that many bytes stand between two quotes: counts are long without holding any text.
fn may_hold_long_text(bytes: &str) -> bool {
    let (mut is_inside, mut is_escaped, mut long) = (false, false, 0);
    bytes.len() > MAX_TEXT_CHARS
        && bytes.bytes().any(|byte| {
            match byte {
                _ if is_escaped => is_escaped = false,
                b'\\' => is_escaped = true,
                b'"' => (is_inside, long) = (!is_inside, 0),
                _ => {}
            }
            long += usize::from(is_inside);
            long > MAX_TEXT_CHARS
        })
}

fn cut(value: &mut Value) {
    match value {
        Value::String(text) => {
            if let Some((at, _)) = text.char_indices().nth(MAX_TEXT_CHARS) {
                text.truncate(at);
                text.push_str(&was_cut());
            }
        }
        Value::Array(values) => values.iter_mut().for_each(cut),
        Value::Object(fields) => fields.values_mut().for_each(cut),
        Value::Null | Value::Bool(_) | Value::Number(_) => {}
    }
}

/// In every language: a fold is kept for whoever reads it next.
fn was_cut() -> String {
    let words = Language::ALL.map(|language| {
        in_language(language, || {
            let max = thousands(MAX_TEXT_CHARS as f64);
            say!("cut-here-at-most-max-characters", max = max)
        })
    });
    format!(" […] [{}]", words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::Fact;

    fn noted(text: &str) -> String {
        let text = serde_json::to_string(text).unwrap();
        let zeros = "0".repeat(64);
        let name = "00000000-0000-0000-0000-000000000000";
        format!(
            r#"{{"body":{{"fact":"noted","step":"car","text":{text}}},"device":"{name}","hlc":{{"counter":0,"millis":0}},"id":"{name}","job":"{name}","prev":"{zeros}","seq":1,"wall":"2026-03-02T08:00:00Z"}}"#
        )
    }

    fn shown(text: &str) -> String {
        let entry = read(&noted(text)).unwrap();
        match entry.body.known() {
            Some(Fact::Noted { text, .. }) => text.clone(),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_text_as_long_as_the_door_takes_is_whole() {
        for letter in ["x", "ß", "\"", "\\", "\u{1f600}", "\n"] {
            let text = letter.repeat(MAX_TEXT_CHARS);
            assert_eq!(shown(&text), text, "{letter}");
        }
    }

    #[test]
    fn a_longer_one_is_cut_at_a_letter_and_says_so_in_every_language() {
        for letter in ["x", "ß", "\"", "\\", "\u{1f600}", "\n"] {
            let told = shown(&letter.repeat(MAX_TEXT_CHARS + 1));
            let rest = told.strip_prefix(&letter.repeat(MAX_TEXT_CHARS));
            let rest = rest.unwrap_or_else(|| panic!("{letter}"));
            for words in ["Cut here", "Hier gekürzt", "Cortado aquí"] {
                assert!(rest.contains(words), "{letter}: {rest}");
            }
            assert!(rest.len() < 500, "{letter}: {rest}");
        }
    }
}
