//! What people type: ordinary words, names that are words, and what is meant to break things.

/// Texts of notes, reasons and complaints. None of them is calm, so that calm words are the book's.
pub const TEXTS: [&str; 14] = [
    "drops under the pan",
    "Brown drops, and Will it hold",
    "<script>alert('x')</script> & <b>bold</b> &amp; \"quoted\"",
    "\u{202e}drawkcab \u{5e9}\u{5dc}\u{5d5}\u{5dd}\u{202c} and on",
    "😀 e\u{301}\u{200b} ﷽ 漢字",
    "bell \u{7} and null \u{0}",
    "two\nlines\tand a tab",
    "]]> --> {{ 7 * 7 }} {} {0} {distance} %s",
    "the customer says May is fine",
    "[name left out]",
    "'; DROP TABLE entry; --",
    "a pipe | and 12,5 km and 1.2.3",
    "…",
    "very long",
];

/// Names of people; many are ordinary words of the trade or of the book.
pub const NAMES: [&str; 10] = [
    "Brown",
    "Will",
    "Mary Long",
    "O'Neil <i>Pan</i>",
    "Öz",
    "May",
    "Black",
    "the customer",
    "\u{5d3}\u{5df} Steel",
    "Van der Berg-Smith, tel 555 0100",
];

/// The text of that number with a word of its own, by which it is found again.
pub fn text(which: u8, token: &str) -> String {
    let text = TEXTS[usize::from(which) % TEXTS.len()];
    if text == "very long" {
        return format!("{}{token}", "very long words ".repeat(180));
    }
    format!("{text} {token}")
}

/// The name of that number.
pub fn name(which: u8) -> &'static str {
    NAMES[usize::from(which) % NAMES.len()]
}
