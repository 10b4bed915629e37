//! The signatures of an export's lines, beside the log: a text a device, its key in the
//! first row, then the number of each signed line and its signature.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

use swarfbook_job::entry::{Sealed, Signature};
use swarfbook_job::id::DeviceId;

use crate::key::verify;
use crate::log::sealed;
use crate::{Store, StoreError};

/// The signatures of a device's lines as an export has them: those that are over their lines.
/// One that the disk changed, or all where it changed the key, stays behind.
#[derive(Default)]
pub(super) struct Written {
    pub(super) text: String,
    /// The numbers of the lines that are signed.
    pub(super) signed: BTreeSet<u64>,
}

impl Written {
    pub(super) fn of(store: &Store, device: DeviceId) -> Result<Written, StoreError> {
        let mut written = Written::default();
        let key = match store.rows(|rows| rows.writer(device))? {
            Some(key) if is_hex(&key, 64) => key,
            _ => return Ok(written),
        };
        written.text = format!("{key}\n");
        store.rows(|rows| {
            rows.after(device, 0, &mut |kept| {
                if let Some(signature) = &kept.signature
                    && let Ok(line) = sealed(&kept.hash, &kept.bytes)
                    && is_hex(signature, 128)
                    && verify(&key, &line.to_sign(), signature)
                {
                    let seq = line.entry.seq;
                    // Writing to a text can't fail.
                    let _ = writeln!(written.text, "{seq} {signature}");
                    written.signed.insert(seq);
                }
                Ok(true)
            })
        })?;
        Ok(written)
    }

    /// Whether an import takes in this line, which has a signature here: it is over the line, or
    /// a line behind it is signed, which names all before it.
    pub(super) fn vouches_for(&self, seq: u64) -> bool {
        self.signed.last().is_none_or(|last| seq <= *last)
    }
}

/// Signatures by the numbers of their lines; `None` where the text is not as it was written.
pub(super) fn read(text: &str) -> Option<BTreeMap<u64, Signature>> {
    let mut rows = text.strip_suffix('\n')?.split('\n');
    let key = rows.next().filter(|key| is_hex(key, 64))?;
    let mut signatures = BTreeMap::new();
    for row in rows {
        let (digits, signature) = row.split_once(' ')?;
        let seq: u64 = digits.parse().ok()?;
        if seq.to_string() != digits || !is_hex(signature, 128) {
            return None;
        }
        let signature = Signature {
            key: key.to_owned(),
            signature: signature.to_owned(),
        };
        signatures.insert(seq, signature);
    }
    Some(signatures)
}

fn is_hex(text: &str, digits: usize) -> bool {
    let is_digit = |byte: u8| matches!(byte, b'0'..=b'9' | b'a'..=b'f');
    text.len() == digits && text.bytes().all(is_digit)
}

/// Whether a line's signature, where it has one, is over this line.
pub(super) fn fits(line: &Sealed) -> bool {
    let Some(by) = &line.signature else {
        return true;
    };
    verify(&by.key, &line.to_sign(), &by.signature)
}
