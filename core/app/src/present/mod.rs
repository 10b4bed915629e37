//! From the state of a job to what the screens show.

mod answers;
mod job;
mod line;
mod list;
mod offers;
mod parts;
mod photo;
mod report;
mod steps;
mod units;
mod wants;

use chrono::{DateTime, FixedOffset};
use swarfbook_words::term;

pub(crate) use answers::words as answer_words;
pub(crate) use job::job;
pub(crate) use line::{by as line_by, lines, step_of, words as line_words};
pub(crate) use list::{JobFacts, found_by, job_facts, job_line};
pub(crate) use parts::{part_words, tightened_words};
pub(crate) use photo::{
    below_seen, counts, fluid_words, histogram, length_mm, photo_census, subject_words, summary,
    unseen_words,
};
pub(crate) use report::standing;
pub(crate) use steps::{blocks, in_the_way};
pub(crate) use units::{
    asked as asked_in, distance_words, measured_words, quantity_of, round_distance_words,
};
pub(crate) use wants::go_ahead_words;

/// A time as the wire has it.
pub(crate) fn time(at: &chrono::DateTime<chrono::FixedOffset>) -> String {
    at.to_rfc3339_opts(chrono::SecondsFormat::Secs, false)
}

/// "1 piece", "2 pieces".
pub(crate) fn count_words(n: u32, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}

/// "14:05".
pub(crate) fn clock_words(at: DateTime<FixedOffset>) -> String {
    at.format("%H:%M").to_string()
}

/// "25 November 2026", "25.11.2026".
pub(crate) fn day_words(at: DateTime<FixedOffset>) -> String {
    at.format(term!("%-d %B %Y")).to_string()
}

/// "25 November 2026, 14:05 (UTC+1)".
pub(crate) fn moment_words(at: DateTime<FixedOffset>) -> String {
    format!(
        "{}, {} ({})",
        day_words(at),
        clock_words(at),
        swarfbook_report::zone(*at.offset())
    )
}

/// The same with a capital at its front.
pub(crate) fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars
        .next()
        .map(|first| first.to_uppercase().chain(chars).collect())
        .unwrap_or_default()
}
