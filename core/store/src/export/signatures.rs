//! The signatures of an export's lines, beside the log: a text a device, its key in the
//! first row, then the number of each signed line and its signature.

use std::collections::BTreeMap;
use std::fmt::Write;

use swarfbook_job::entry::{Sealed, Signature};
use swarfbook_job::id::DeviceId;

use crate::key::verify;
use crate::{Store, StoreError, writer};

/// The signatures of a device's lines as an export has them, and how many there are;
/// nothing where it signed none.
pub(super) fn written(
    store: &Store,
    device: DeviceId,
) -> Result<Option<(String, u64)>, StoreError> {
    let Some(key) = writer::key_of(&store.db, device)? else {
        return Ok(None);
    };
    let mut query = store.db.prepare_cached(
        "SELECT seq, signature FROM entry
         WHERE device = ?1 AND signature IS NOT NULL ORDER BY seq",
    )?;
    let mut rows = query.query([device.to_string()])?;
    let mut text = format!("{key}\n");
    let mut signed = 0;
    while let Some(row) = rows.next()? {
        let (seq, signature): (u64, String) = (row.get(0)?, row.get(1)?);
        // Writing to a text can't fail.
        let _ = writeln!(text, "{seq} {signature}");
        signed += 1;
    }
    Ok((signed > 0).then_some((text, signed)))
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
