//! Text strings of the file: titles, alternative texts, labels.

/// A text as it may stand in the file: in UTF-16 (ISO 32000-2, 7.9.2.2), never as the plain
/// letters that somebody typed. A reader that takes the file for damaged looks for objects
/// among all its bytes, and finds what was typed to look like some.
///
/// The writer sets a text so that holds more than ASCII, so one that does not ends in a
/// sign without width or sound.
pub(crate) fn text_string(text: &str) -> String {
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
