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
    filled(translated(english), given)
}

fn filled(sentence: &str, given: &[&dyn Display]) -> String {
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

/// A text that was kept in English with its figures in it, such as what a
/// photo's reading says of itself, in the language that is spoken: the sentence
/// that it was made from, with the same figures. As it is where none fits.
pub fn retold(text: &str) -> String {
    let Some(all) = catalogue(speaking()) else {
        return text.to_owned();
    };
    if let Some(sentence) = all.get(text) {
        return sentence.clone();
    }
    let retold = all
        .iter()
        .filter(|(english, _)| english.contains('{'))
        .find_map(|(english, sentence)| {
            let figures: Vec<String> = figures(english, text)?
                .into_iter()
                .map(|figure| match figure.parse::<f64>() {
                    Ok(_) => decimals(figure),
                    Err(_) => figure.to_owned(),
                })
                .collect();
            let given: Vec<&dyn Display> = figures.iter().map(|one| one as &dyn Display).collect();
            Some(filled(sentence, &given))
        });
    retold.unwrap_or_else(|| text.to_owned())
}

/// What stands at the places of a sentence in a text that was made from it. Most
/// of a text is its sentence: one that would be found in anything is not meant.
fn figures<'a>(sentence: &str, text: &'a str) -> Option<Vec<&'a str>> {
    let (before, _, mut rest) = place(sentence)?;
    let mut found = Vec::new();
    let mut left = text.strip_prefix(before)?;
    loop {
        let next = place(rest);
        let between = next.map_or(rest, |(between, _, _)| between);
        let end = match next {
            Some(_) if between.is_empty() => return None,
            Some(_) => left.find(between)?,
            None => left.len().checked_sub(between.len())?,
        };
        let (figure, after) = (left.get(..end)?, left.get(end..)?);
        found.push(figure);
        left = after.strip_prefix(between)?;
        match next {
            Some((_, _, after)) => rest = after,
            None => break,
        }
    }
    let figures: usize = found.iter().map(|figure| figure.len()).sum();
    let whole = found.iter().all(|figure| !figure.is_empty());
    (whole && 3 * figures < text.len()).then_some(found)
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
    use super::figures;
    use crate::{Language, in_language, retold, say, speaking};

    #[test]
    fn a_value_that_looks_like_a_place_is_left_alone() {
        assert_eq!(say("{} and {}", &[&"{1}", &2]), "{1} and 2");
    }

    #[test]
    fn a_kept_text_is_told_again_with_its_figures() {
        let kept = "Only 5.2 pixels a millimetre: pieces under 0.9 mm can't be seen. Go nearer.";
        assert_eq!(retold(kept), kept);
        in_language(Language::De, || {
            let told = retold(kept);
            assert!(told.contains("5,2") && told.contains("0,9 mm"), "{told}");
            assert!(!told.contains("pixels a"), "{told}");
            for other in [
                "Only 5.2 pixels a millimetre: pieces under 0.9 mm can't be seen. Go nearer. Now.",
                "What was typed.",
            ] {
                assert_eq!(retold(other), other);
            }
        });
    }

    #[test]
    fn figures_of_a_sentence() {
        let at = |sentence, text| figures(sentence, text);
        assert_eq!(
            at("It has {a} x {b} px.", "It has 3 x 4.5 px."),
            Some(vec!["3", "4.5"])
        );
        for (sentence, text) in [
            ("Plain.", "Plain."),
            ("{} mm", " mm"),
            (
                "{} can't be {}. {}",
                "A pan can't be read. Go on, it is not far.",
            ),
        ] {
            assert_eq!(at(sentence, text), None, "{text}");
        }
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
