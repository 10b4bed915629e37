//! The signatures of an export's lines, beside the log: a text a device, its key in the
//! first row, then the number of each signed line and its signature.

use std::collections::BTreeMap;
use std::fmt::Write;

use swarfbook_job::entry::Signature;
use swarfbook_job::id::DeviceId;

use crate::{Store, StoreError, writer};

/// The signatures of a device's lines as an export has them; nothing where it signed none.
pub(super) fn written(store: &Store, device: DeviceId) -> Result<Option<String>, StoreError> {
    let Some(key) = writer::key_of(&store.db, device)? else {
        return Ok(None);
    };
    let mut query = store.db.prepare_cached(
        "SELECT seq, signature FROM entry
         WHERE device = ?1 AND signature IS NOT NULL ORDER BY seq",
    )?;
    let mut rows = query.query([device.to_string()])?;
    let mut text = format!("{key}\n");
    let mut some = false;
    while let Some(row) = rows.next()? {
        let (seq, signature): (u64, String) = (row.get(0)?, row.get(1)?);
        // Writing to a text can't fail.
        let _ = writeln!(text, "{seq} {signature}");
        some = true;
    }
    Ok(some.then_some(text))
}

/// Signatures by the numbers of their lines. What can't be read signs nothing: whoever takes
/// the lines in checks each.
pub(super) fn read(text: &str) -> BTreeMap<u64, Signature> {
    let mut rows = text.lines();
    let key = rows.next().unwrap_or_default();
    rows.filter_map(|row| {
        let (seq, signature) = row.split_once(' ')?;
        let signature = Signature {
            key: key.to_owned(),
            signature: signature.to_owned(),
        };
        Some((seq.parse().ok()?, signature))
    })
    .collect()
}
