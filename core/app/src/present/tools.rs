//! Tools in words: serial numbers and days of calibration.

use chrono::NaiveDate;
use swarfbook_job::fact::{CardChecked, ToolMark, Tools};
use swarfbook_words::{fixed, say, term};

/// All that is known of a device's tools.
pub(crate) fn words(tools: &Tools) -> String {
    let meters = tools.meters.iter();
    let meters = meters.filter_map(|(name, mark)| mark_words(name, mark));
    let wrench = mark_words(term!("torque-wrench"), &tools.wrench);
    let clamp = mark_words(term!("current-clamp"), &tools.clamp);
    let known: Vec<String> = meters
        .chain(clamp)
        .chain(wrench)
        .chain(tools.card.map(card_words))
        .collect();
    if known.is_empty() {
        return say!("tools-not-stated");
    }
    say!("tools-known", known = known.join("; "))
}

/// "workshop meter, number INV-0042, calibrated 11 February 2026".
fn mark_words(name: &str, mark: &ToolMark) -> Option<String> {
    let serial = mark.serial.trim();
    let number = (!serial.is_empty()).then(|| say!("number-serial", serial = serial));
    let day = mark
        .calibrated
        .map(|day| say!("calibrated-day", day = day_words(day)));
    let said: Vec<String> = number.into_iter().chain(day).collect();
    (!said.is_empty()).then(|| format!("{name}, {}", said.join(", ")))
}

fn card_words(card: CardChecked) -> String {
    let mm = fixed(card.line_mm, 1);
    match card.day {
        Some(day) => say!(
            "gauge-card-its-line-of-150-mm-measured",
            mm = mm,
            day = day_words(day)
        ),
        None => say!("gauge-card-its-line-of-150-mm-measured-mm", mm = mm),
    }
}

fn day_words(day: NaiveDate) -> String {
    day.format(term!("day-format")).to_string()
}
