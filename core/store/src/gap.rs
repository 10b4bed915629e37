//! Gaps in a device's chain: lines that a disk destroyed. What stands behind one is taken in
//! only from an export that lists the gap, and a gap is filled by the lines that belong there.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{DeviceId, Sha256Hex};

use crate::rows::Rows;
use crate::{Store, StoreError};

/// Lines of a device that can't be read any more: `first` to `last`, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct LostLines {
    /// The device that wrote them.
    pub device: DeviceId,
    /// Number of the first.
    pub first: u64,
    /// Number of the last.
    pub last: u64,
}

/// Whether just these lines are known to be lost, or some that hold all of them.
pub(crate) fn is_lost(lost: &[LostLines], device: DeviceId, first: u64, last: u64) -> bool {
    lost.iter()
        .any(|gap| gap.device == device && gap.first <= first && last <= gap.last)
}

/// Whether a line that is not here belongs into a gap: it fits what stands before and behind it.
pub(crate) fn fills(rows: &dyn Rows, line: &Sealed) -> Result<bool, StoreError> {
    let entry = &line.entry;
    let before = match entry.seq {
        0 | 1 => Some(Sha256Hex::ZERO),
        seq => rows
            .hash(entry.device, seq - 1)?
            .and_then(|hash| hash.parse().ok()),
    };
    if before != Some(entry.prev) {
        return Ok(false);
    }
    Ok(match rows.line(entry.device, entry.seq + 1)? {
        Some(behind) => Sealed::read(&behind.bytes)?.entry.prev == line.hash,
        None => true,
    })
}

/// Whether the line behind it is here, which [`fills`] has held it against.
pub(crate) fn is_followed(rows: &dyn Rows, line: &Sealed) -> Result<bool, StoreError> {
    let behind = line.entry.seq.saturating_add(1);
    Ok(rows.hash(line.entry.device, behind)?.is_some())
}

impl Store {
    /// The number of the last line of each device before which none is missing, so that who
    /// has more is asked for what was lost here.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn heads(&self) -> Result<BTreeMap<DeviceId, u64>, StoreError> {
        self.rows(|rows| {
            let mut heads = BTreeMap::new();
            for (device, last, count) in rows.devices()? {
                let whole = if last == count {
                    last
                } else {
                    before_the_first_gap(rows, device)?
                };
                heads.insert(device, whole);
            }
            Ok(heads)
        })
    }
}

fn before_the_first_gap(rows: &dyn Rows, device: DeviceId) -> Result<u64, StoreError> {
    let mut whole = 0;
    rows.after(device, 0, &mut |line| {
        let follows = line.seq == whole + 1;
        whole += u64::from(follows);
        Ok(follows)
    })?;
    Ok(whole)
}
