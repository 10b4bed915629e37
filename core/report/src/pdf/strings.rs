//! Text strings of the file: titles, alternative texts, labels.

/// The most letters: a string of PDF/A has 32,767 bytes at most (ISO 19005-2, 6.1.13), and a
/// letter takes up to four and may be escaped. The words on the page are whole in any case.
const MOST: usize = 4000;

/// A text as it may stand in the file: in UTF-16 (ISO 32000-2, 7.9.2.2), never as the plain
/// letters that somebody typed. A reader that takes the file for damaged looks for objects
/// among all its bytes, and finds what was typed to look like some.
///
/// The writer sets a text so that holds more than ASCII, so one that does not ends in a
/// sign without width or sound.
pub(crate) fn text_string(text: &str) -> String {
    let text = match text.char_indices().nth(MOST) {
        Some((end, _)) => text.get(..end).unwrap_or(text),
        None => text,
    };
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        format!("{text}\u{2060}")
    } else {
        text.to_owned()
    }
}

/// A text that stands in the file's XMP as well, in plain UTF-8: between two spaces there
/// it could be an object's number.
pub(crate) fn plain_string(text: &str) -> String {
    text_string(&text.replace(' ', "\u{a0}"))
}
