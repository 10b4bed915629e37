//! Where a line must not end: between a number and its unit or currency, and within
//! "37.05 ± 0.81" and "k = 2".

use std::ops::Range;

use swarfbook_measure::unit::Unit;

/// Units that stand in a report and are none of [`Unit`]'s.
const OTHER: [&str; 9] = ["%", "mm²", "cm²", "cm", "kPa", "bar", "px/mm", "kg/m³", "K"];

/// Stretches of a text that stay in one line, in bytes; a stretch has one space or more.
pub(crate) fn ties(text: &str) -> Vec<Range<usize>> {
    let mut words: Vec<Range<usize>> = Vec::new();
    let mut at = 0;
    for word in text.split(' ') {
        words.push(at..at + word.len());
        at += word.len() + 1;
    }
    let mut ties: Vec<Range<usize>> = Vec::new();
    for pair in words.windows(2) {
        let [before, after] = pair else { continue };
        let (Some(first), Some(second)) = (text.get(before.clone()), text.get(after.clone()))
        else {
            continue;
        };
        if !tied(first, second) {
            continue;
        }
        match ties.last_mut() {
            Some(last) if last.end == before.end => last.end = after.end,
            _ => ties.push(before.start..after.end),
        }
    }
    ties
}

/// Whether a line may end before the byte `at`, which begins a word.
pub(crate) fn may_end(text: &str, at: usize) -> bool {
    let before = text.get(..at).unwrap_or_default();
    let first = before.trim_end_matches(' ').rsplit(' ').next();
    let second = text.get(at..).and_then(|rest| rest.split(' ').next());
    !first
        .zip(second)
        .is_some_and(|(first, second)| before.ends_with(' ') && tied(first, second))
}

fn tied(first: &str, second: &str) -> bool {
    let ends_in_figure = first.ends_with(|c: char| c.is_numeric());
    (ends_in_figure && (second.starts_with('±') || is_unit(second) || is_currency(second)))
        || second == "="
        || (first == "=" && second.starts_with(|c: char| c.is_numeric()))
        || (first.ends_with('±') && second.starts_with(|c: char| c.is_numeric()))
}

/// Without the brackets, stops and numbers of sources that may follow a unit.
fn bare(word: &str) -> &str {
    let bare =
        word.trim_end_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '%' | '²' | '³'));
    bare.split(['[', '\u{2060}']).next().unwrap_or(bare)
}

/// Three letters, as ISO 4217 writes currencies.
fn is_currency(word: &str) -> bool {
    let bare = bare(word);
    bare.len() == 3 && bare.bytes().all(|b| b.is_ascii_uppercase())
}

fn is_unit(word: &str) -> bool {
    let bare = bare(word);
    OTHER.contains(&bare) || Unit::all().any(|unit| unit.symbol() == bare)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn number_and_unit_are_one() {
        let text = "read 37.05 ± 0.81 ohm (30 %), 5 pieces, 4.2 mm. At 20 °C;";
        let tied: Vec<&str> = ties(text).into_iter().map(|at| &text[at]).collect();
        assert_eq!(tied, ["37.05 ± 0.81 ohm", "(30 %),", "4.2 mm.", "20 °C;"]);
        let before = |word| may_end(text, text.find(word).unwrap());
        assert!(before("pieces") && before("read") && before("(30"));
        assert!(!before("ohm") && !before("± 0") && !before("0.81") && !before("%"));
    }

    #[test]
    fn an_amount_and_a_factor_stay_whole() {
        let text = "It costs 386.00 EUR, with (k = 2). NO WH 123";
        let tied: Vec<&str> = ties(text).into_iter().map(|at| &text[at]).collect();
        assert_eq!(tied, ["386.00 EUR,", "(k = 2)."]);
    }
}
