//! What a log holds, counted: each line is read and held against the one before it.

use swarfbook_job::id::{DeviceId, Sha256Hex};

use crate::log::sealed;
use crate::rows::Rows;
use crate::{LostLines, StoreError};

/// What was read of a log, and what was not.
#[derive(Debug, Default)]
pub(crate) struct Counted {
    /// Lines that are there.
    pub lines: u64,
    /// Lines that are not there, by the numbers between those that are.
    pub lost: Vec<LostLines>,
    /// How many lines more the log had, of which nobody knows the numbers.
    pub unnamed: u64,
    /// Lines that do not name the one before them.
    pub unfit: Vec<(DeviceId, u64)>,
}

/// Reads all lines; the log once had `had` of them.
pub(crate) fn count(rows: &dyn Rows, had: u64) -> Result<Counted, StoreError> {
    let mut found = Counted::default();
    for (device, _, _) in rows.devices()? {
        let (mut next, mut before) = (1, Some(Sha256Hex::ZERO));
        rows.after(device, 0, &mut |kept| {
            let line = sealed(&kept.hash, &kept.bytes)?;
            if kept.seq > next {
                found.lost.push(LostLines {
                    device,
                    first: next,
                    last: kept.seq - 1,
                });
                before = None;
            }
            if before.is_some_and(|hash| hash != line.entry.prev) {
                found.unfit.push((device, kept.seq));
            }
            next = kept.seq + 1;
            before = Some(line.hash);
            found.lines += 1;
            Ok(true)
        })?;
    }
    let named: u64 = found.lost.iter().map(|gap| gap.last + 1 - gap.first).sum();
    found.unnamed = had.saturating_sub(found.lines + named);
    Ok(found)
}
