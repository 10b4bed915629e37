//! Sentences that stand in data in English: those of the procedures and of the table of
//! codes that ship, and those that a photo's reading left in the log with its figures.

use std::collections::HashMap;
use std::fmt::Display;
use std::sync::OnceLock;

use fluent_syntax::ast::{Entry, Expression, InlineExpression, Pattern, PatternElement};
use fluent_syntax::parser;

use crate::message::EN;
use crate::texts::{sentences, texts};
use crate::{Language, decimals, say, speaking};

/// A text of data that ships, in the language that is spoken; as it is where it is none of ours.
pub fn shipped(text: &str) -> &str {
    let id = match speaking() {
        Language::En => None,
        _ => by_english().get(text),
    };
    id.and_then(|id| texts(speaking()).plain(id))
        .unwrap_or(text)
}

/// A text that was kept in English with its figures in it, such as what a photo's reading says
/// of itself, in the language that is spoken: the message that it was made from, with the same
/// figures. As it is where none fits.
pub fn kept(text: &str) -> String {
    if speaking() == Language::En {
        return text.to_owned();
    }
    if let Some(id) = by_english().get(text) {
        return texts(speaking()).plain(id).unwrap_or(text).to_owned();
    }
    let told = templates().iter().find_map(|template| {
        let found = template.figures(text)?;
        let figures: Vec<(&str, String)> = found
            .into_iter()
            .map(|(name, figure)| match figure.parse::<f64>() {
                Ok(_) => (name, decimals(figure)),
                Err(_) => (name, figure.to_owned()),
            })
            .collect();
        let given: Vec<(&str, &dyn Display)> = figures
            .iter()
            .map(|(name, figure)| (*name, figure as &dyn Display))
            .collect();
        Some(say(template.id, &given))
    });
    told.unwrap_or_else(|| text.to_owned())
}

/// The ids of English sentences that are given nothing.
fn by_english() -> &'static HashMap<&'static str, &'static str> {
    static IDS: OnceLock<HashMap<&'static str, &'static str>> = OnceLock::new();
    IDS.get_or_init(|| {
        let mut all: Vec<_> = sentences(Language::En).collect();
        // Of two ids with one English the first, whatever the order of the map.
        all.sort_unstable_by(|a, b| b.cmp(a));
        all.into_iter().map(|(id, text)| (text, id)).collect()
    })
}

/// An English message that shows values: texts and names in turn.
struct Template {
    id: &'static str,
    /// What stands before each value, with its name.
    places: Vec<(String, &'static str)>,
    end: String,
}

impl Template {
    fn letters(&self) -> usize {
        self.places
            .iter()
            .map(|(text, _)| text.len())
            .sum::<usize>()
            + self.end.len()
    }

    /// What stands at the places in a text that was made from it. Most of a text is its
    /// sentence: one that would be found in anything is not meant.
    fn figures<'a>(&self, text: &'a str) -> Option<Vec<(&'static str, &'a str)>> {
        let mut found: Vec<(&'static str, &'a str)> = Vec::new();
        let mut left = text;
        let mut before: Option<&'static str> = None;
        for (between, name) in &self.places {
            left = match before {
                None => left.strip_prefix(between.as_str())?,
                Some(_) if between.is_empty() => return None,
                Some(before) => {
                    let (figure, after) = left.split_once(between.as_str())?;
                    found.push((before, figure));
                    after
                }
            };
            before = Some(name);
        }
        found.push((before?, left.strip_suffix(self.end.as_str())?));
        let figures: usize = found.iter().map(|(_, figure)| figure.len()).sum();
        let whole = found.iter().all(|(_, figure)| !figure.is_empty());
        (whole && 3 * figures < text.len()).then_some(found)
    }
}

/// Those that say most come first, since a shorter one may fit a part of them.
fn templates() -> &'static [Template] {
    static READ: OnceLock<Vec<Template>> = OnceLock::new();
    READ.get_or_init(|| {
        let mut all = Vec::new();
        for file in EN {
            // The build has read each.
            let read = parser::parse(*file).unwrap_or_else(|(whole, _)| whole);
            for entry in read.body {
                if let Entry::Message(message) = entry {
                    let value = message.value.as_ref();
                    all.extend(value.and_then(|value| template(message.id.name, value)));
                }
            }
        }
        all.sort_by_key(|template| std::cmp::Reverse(template.letters()));
        all
    })
}

/// None for one that is given nothing, or chooses: no sentence of before did.
fn template(id: &'static str, pattern: &Pattern<&'static str>) -> Option<Template> {
    let mut places = Vec::new();
    let mut text = String::new();
    for element in &pattern.elements {
        match element {
            PatternElement::TextElement { value } => text.push_str(value),
            PatternElement::Placeable {
                expression: Expression::Inline(one),
            } => match one {
                InlineExpression::StringLiteral { value } => text.push_str(value),
                InlineExpression::VariableReference { id } => {
                    places.push((std::mem::take(&mut text), id.name));
                }
                _ => return None,
            },
            PatternElement::Placeable { .. } => return None,
        }
    }
    (!places.is_empty()).then_some(Template {
        id,
        places,
        end: text,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::in_language;

    #[test]
    fn a_kept_text_is_told_again_with_its_figures() {
        let text = "Only 5.2 pixels a millimetre: pieces under 0.9 mm can't be seen. Go nearer.";
        assert_eq!(kept(text), text);
        in_language(Language::De, || {
            let told = kept(text);
            assert!(told.contains("5,2") && told.contains("0,9 mm"), "{told}");
            assert!(!told.contains("pixels a"), "{told}");
            for other in [
                "Only 5.2 pixels a millimetre: pieces under 0.9 mm can't be seen. Go nearer. Now.",
                "What was typed.",
            ] {
                assert_eq!(kept(other), other);
            }
        });
    }

    #[test]
    fn figures_of_a_sentence() {
        let of = |english: &'static str| {
            let read = parser::parse(english).unwrap();
            let Some(Entry::Message(message)) = read.body.first() else {
                unreachable!()
            };
            template("x", message.value.as_ref().unwrap())
        };
        let at = |english: &'static str, text| of(english).and_then(|one| one.figures(text));
        assert_eq!(
            at("x = It has {$a} x {$b} px.", "It has 3 x 4.5 px."),
            Some(vec![("a", "3"), ("b", "4.5")])
        );
        for (english, text) in [
            ("x = Plain.", "Plain."),
            ("x = {$a} mm", " mm"),
            (
                "x = {$a} can't be {$b}. {$c}",
                "A pan can't be read. Go on, it is not far.",
            ),
        ] {
            assert_eq!(at(english, text), None, "{text}");
        }
    }
}
