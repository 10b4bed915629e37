//! What the command line writes. Text from a log, a file or another device may hold escape
//! sequences, with which a terminal can be made to hide, forge or type things: each control
//! character is written as JSON writes it (`\u001b`), in text and JSON alike.

use std::io::{self, StderrLock, StdoutLock, Write};

pub(super) fn out() -> Clean<StdoutLock<'static>> {
    Clean::new(io::stdout().lock())
}

pub(super) fn err() -> Clean<StderrLock<'static>> {
    Clean::new(io::stderr().lock())
}

/// Passes UTF-8 on, except for control characters: C0 but tab and line end, DEL, and C1.
pub(super) struct Clean<W> {
    to: W,
    /// The first byte of a letter whose second may make it one of C1.
    c2: bool,
}

impl<W: Write> Clean<W> {
    fn new(to: W) -> Clean<W> {
        Clean { to, c2: false }
    }
}

impl<W: Write> Write for Clean<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut clean = Vec::with_capacity(bytes.len());
        for byte in bytes {
            match (std::mem::take(&mut self.c2), *byte) {
                (true, 0x80..=0x9f) => write!(clean, "\\u00{byte:02x}")?,
                (after_c2, byte) => {
                    if after_c2 {
                        clean.push(0xc2);
                    }
                    match byte {
                        0xc2 => self.c2 = true,
                        b'\t' | b'\n' => clean.push(byte),
                        0..=0x1f | 0x7f => write!(clean, "\\u00{byte:02x}")?,
                        other => clean.push(other),
                    }
                }
            }
        }
        self.to.write_all(&clean)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_control_character_passes_and_no_letter_is_lost() {
        let hostile = "a\u{1b}]0;x\u{7}b\rc\u{9b}31m\u{7f}\u{85}\n\tÂ é ü ° 中 \u{a0}.";
        let clean = "a\\u001b]0;x\\u0007b\\u000dc\\u009b31m\\u007f\\u0085\n\tÂ é ü ° 中 \u{a0}.";
        for at_once in [1, 2, 3, 100] {
            let mut to = Clean::new(Vec::new());
            for part in hostile.as_bytes().chunks(at_once) {
                to.write_all(part).unwrap();
            }
            assert_eq!(String::from_utf8(to.to).unwrap(), clean, "{at_once}");
        }
        let json = serde_json::json!({ "text": hostile });
        let mut to = Clean::new(Vec::new());
        serde_json::to_writer(&mut to, &json).unwrap();
        let read: serde_json::Value = serde_json::from_slice(&to.to).unwrap();
        assert_eq!(read, json, "JSON says the same");
    }
}
