//! The numbers in brackets that lead from a figure to its line of the log.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use swarfbook_words::id;

use minijinja::{Environment, Value};

use crate::content::Content;
use crate::plot::escape;
use crate::words::Words;

/// How many lines a sentence of the letter names; the annex names all.
const FEW: usize = 2;

pub(super) fn add(env: &mut Environment<'static>, content: &Content, words: &Words) {
    let numbers: BTreeMap<String, usize> = content
        .sources
        .keys()
        .enumerate()
        .map(|(at, entry)| (entry.to_string(), at + 1))
        .collect();
    for (name, most) in [("refs", usize::MAX), ("few_refs", FEW)] {
        let (numbers, words) = (numbers.clone(), *words);
        env.add_function(name, move |from: Vec<String>| {
            let lines: BTreeSet<usize> = from
                .iter()
                .filter_map(|entry| numbers.get(entry).copied())
                .collect();
            // The annex has them all.
            let few = lines.into_iter().take(most).collect();
            Value::from_safe_string(markup(&few, &words))
        });
    }
}

fn markup(lines: &BTreeSet<usize>, words: &Words) -> String {
    let mut text = String::new();
    for (at, line) in lines.iter().enumerate() {
        // A line may end between two numbers, but none begins one without its word.
        let joined = if at == 0 { "\u{2060}" } else { "" };
        let n = line.to_string();
        let label = escape(&words.fill(id!("report-page-ref"), &[("n", &n)]));
        let _ = write!(
            text,
            "<a class=\"ref\" href=\"#s{n}\" aria-label=\"{label}\">{joined}[{n}]</a>"
        );
    }
    text
}
