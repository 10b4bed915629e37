//! Saying a sentence in the language that is spoken.

use std::fmt::{Display, Write};

use crate::catalogue::{catalogue, place};
use crate::{Language, speaking};

/// A sentence in the language that is spoken, its `{}` filled in order:
/// `say!("{} of {} samples", jumped, all)`. As many values as places, or it
/// does not compile.
#[macro_export]
macro_rules! say {
    ($english:literal $(, $value:expr)* $(,)?) => {{
        const {
            let given: &[&str] = &[$(stringify!($value)),*];
            assert!($crate::count($english) == given.len(), "a value for each place");
        };
        $crate::say($english, &[$(&$value as &dyn ::std::fmt::Display),*])
    }};
}

/// A word or sentence without places in the language that is spoken, as `&'static str`.
#[macro_export]
macro_rules! term {
    ($english:literal) => {
        $crate::translated($english)
    };
}

/// How many `{}` a sentence has.
pub const fn count(sentence: &str) -> usize {
    let bytes = sentence.as_bytes();
    let (mut at, mut found) = (0, 0);
    while at + 1 < bytes.len() {
        if bytes[at] == b'{' && bytes[at + 1] == b'}' {
            found += 1;
        }
        at += 1;
    }
    found
}

/// What [`say!`] comes to.
pub fn say(english: &str, given: &[&dyn Display]) -> String {
    let sentence = translated(english);
    let mut rest = sentence;
    let mut said = String::with_capacity(rest.len());
    let mut next = 0;
    // One pass, so that a value which looks like a place is not filled again.
    while let Some((before, name, after)) = place(rest) {
        said.push_str(before);
        let at = name.parse().unwrap_or(next);
        next += usize::from(name.is_empty());
        if let Some(value) = given.get(at) {
            // Writing to a String does not fail.
            let _ = write!(said, "{value}");
        }
        rest = after;
    }
    said.push_str(rest);
    said
}

/// A text that is data, such as that of the procedure that ships, in the
/// language that is spoken; as it is where the catalogue does not have it.
pub fn translated(english: &str) -> &str {
    catalogue(speaking())
        .and_then(|all| all.get(english))
        .map_or(english, String::as_str)
}

/// A text that was written in English after one of these sentences, with figures in
/// its places, in the language that is spoken; any other as [`translated`].
pub fn retold(written: &str, sentences: &[&str]) -> String {
    for sentence in sentences {
        if let Some(figures) = figures_in(written, sentence) {
            let figures: Vec<String> = figures.into_iter().map(decimals).collect();
            let given: Vec<&dyn Display> = figures.iter().map(|f| f as &dyn Display).collect();
            return say(sentence, &given);
        }
    }
    translated(written).to_owned()
}

/// What stands in the places of a sentence, if figures do and all else is the same.
fn figures_in<'t>(written: &'t str, sentence: &str) -> Option<Vec<&'t str>> {
    let mut parts = sentence.split("{}");
    let mut rest = written.strip_prefix(parts.next()?)?;
    let mut figures = Vec::new();
    for part in parts {
        let end = rest
            .find(|c: char| !c.is_ascii_digit() && c != '.')
            .unwrap_or(rest.len());
        let (figure, after) = rest.split_at_checked(end)?;
        if figure.is_empty() {
            return None;
        }
        figures.push(figure);
        rest = after.strip_prefix(part)?;
    }
    rest.is_empty().then_some(figures)
}

/// A number with the decimal mark of the language: from one that was written with a point.
pub fn decimals(written: &str) -> String {
    match speaking().decimal_mark() {
        '.' => written.to_owned(),
        mark => written.replace('.', &mark.to_string()),
    }
}

/// A text that begins a line, as it stands within a sentence: English writes its
/// first letter small; German leaves it, since it may begin a noun.
pub fn within(text: &str) -> String {
    let mut letters = text.chars();
    match (speaking(), letters.next()) {
        (Language::En, Some(first)) => first.to_lowercase().chain(letters).collect(),
        _ => text.to_owned(),
    }
}

/// A number to so many decimals.
pub fn fixed(number: impl Into<f64>, places: usize) -> String {
    decimals(&format!("{:.places$}", number.into()))
}

#[cfg(test)]
mod tests {
    use crate::{Language, in_language, retold, say, speaking};

    #[test]
    fn what_was_written_with_figures_is_known_again() {
        let sentences = ["{} of {} samples", "{} to {} mm"];
        let german = |text| in_language(Language::De, || retold(text, &sentences));
        assert_eq!(german("0.4 to 0.6 mm"), "0,4 bis 0,6 mm");
        assert_eq!(retold("0.4 to 0.6 mm", &sentences), "0.4 to 0.6 mm");
        for other in [
            "a to 0.6 mm",
            "0.4 to 0.6 mm wide",
            "0.4 to mm",
            "",
            "x 0.4 to 0.6 mm",
        ] {
            assert_eq!(german(other), other);
        }
    }

    #[test]
    fn a_value_that_looks_like_a_place_is_left_alone() {
        assert_eq!(say("{} and {}", &[&"{1}", &2]), "{1} and 2");
    }

    #[test]
    fn places_may_be_reordered() {
        assert_eq!(say("{1} before {0}", &[&"a", &"b"]), "b before a");
    }

    #[test]
    fn the_language_is_set_back_after_a_panic_too() {
        let panicked = std::panic::catch_unwind(|| in_language(Language::De, || panic!("a test")));
        assert!(panicked.is_err());
        assert_eq!(speaking(), Language::En);
    }

    #[test]
    fn a_language_inside_another_gives_way_again() {
        in_language(Language::De, || {
            in_language(Language::En, || assert_eq!(speaking(), Language::En));
            assert_eq!(speaking(), Language::De);
        });
    }
}
