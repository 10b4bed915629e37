//! The numbers in brackets that lead from a figure to its line of the log.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use minijinja::{Environment, Value};

use crate::content::Content;
use crate::plot::escape;
use crate::words::Words;

pub(super) fn add(env: &mut Environment<'static>, content: &Content, words: &Words) {
    let numbers: BTreeMap<String, usize> = content
        .sources
        .keys()
        .enumerate()
        .map(|(at, entry)| (entry.to_string(), at + 1))
        .collect();
    let words = words.clone();
    env.add_function("refs", move |from: Vec<String>| {
        let lines: BTreeSet<usize> = from
            .iter()
            .filter_map(|entry| numbers.get(entry).copied())
            .collect();
        Value::from_safe_string(markup(&lines, &words))
    });
}

fn markup(lines: &BTreeSet<usize>, words: &Words) -> String {
    let mut text = String::new();
    for (at, line) in lines.iter().enumerate() {
        // A line may end between two numbers, but none begins one without its word.
        let joined = if at == 0 { "\u{2060}" } else { "" };
        let n = line.to_string();
        let label = escape(&words.fill("page.ref", &[("n", &n)]));
        let _ = write!(
            text,
            "<a class=\"ref\" href=\"#s{n}\" aria-label=\"{label}\">{joined}[{n}]</a>"
        );
    }
    text
}
