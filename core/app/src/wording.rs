//! Times and counts in words, for whoever says them.

use chrono::{DateTime, FixedOffset};
use swarfbook_words::term;

/// A time as the wire has it.
pub(crate) fn time(at: &DateTime<FixedOffset>) -> String {
    at.to_rfc3339_opts(chrono::SecondsFormat::Secs, false)
}

/// "14:05".
pub(crate) fn clock_words(at: DateTime<FixedOffset>) -> String {
    at.format("%H:%M").to_string()
}

/// "25 November 2026", "25.11.2026".
pub(crate) fn day_words(at: DateTime<FixedOffset>) -> String {
    at.format(term!("day-format")).to_string()
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
