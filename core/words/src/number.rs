//! Numbers and openings of lines as a language writes them.

use crate::{Language, speaking};

/// A number with the decimal mark of the language: from one that was written with a point.
pub fn decimals(written: &str) -> String {
    match speaking().decimal_mark() {
        '.' => written.to_owned(),
        mark => written.replace('.', &mark.to_string()),
    }
}

/// A text that begins a line, as it stands within a sentence: English writes its
/// first letter small, and so does Spanish; German leaves it, since it may begin a noun.
pub fn within(text: &str) -> String {
    let mut letters = text.chars();
    match (speaking(), letters.next()) {
        (Language::En | Language::Es, Some(first)) => first.to_lowercase().chain(letters).collect(),
        _ => text.to_owned(),
    }
}

/// A number to so many decimals.
pub fn fixed(number: impl Into<f64>, places: usize) -> String {
    decimals(&format!("{:.places$}", number.into()))
}
