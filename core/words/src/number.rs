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

/// What something is called, and what it is: `Smell: burnt`. A question has its own mark:
/// `A piece that can be named? None`.
pub fn labelled(label: &str, value: &str) -> String {
    let mut letters = value.chars();
    match letters.next() {
        Some(first) if label.ends_with('?') => {
            let opening: String = first.to_uppercase().collect();
            format!("{label} {opening}{}", letters.as_str())
        }
        _ => format!("{label}: {value}"),
    }
}

/// A number to so many decimals.
pub fn fixed(number: impl Into<f64>, places: usize) -> String {
    decimals(&format!("{:.places$}", number.into()))
}

#[cfg(test)]
mod tests {
    use super::labelled;

    #[test]
    fn no_two_marks_stand_behind_a_question() {
        assert_eq!(labelled("Smell", "burnt"), "Smell: burnt");
        assert_eq!(labelled("¿Se oye?", "no, nada"), "¿Se oye? No, nada");
    }
}
