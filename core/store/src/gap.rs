//! Gaps in a device's chain: lines that a disk destroyed. What stands behind one is taken in
//! only from an export that lists the gap, and a gap is filled by the lines that belong there.

use std::collections::BTreeMap;

use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::{DeviceId, Sha256Hex};

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
pub(crate) fn fills(db: &Connection, line: &Sealed) -> Result<bool, StoreError> {
    let entry = &line.entry;
    let at = |seq: u64| -> Result<Option<(String, String)>, StoreError> {
        Ok(db
            .prepare_cached("SELECT hash, bytes FROM entry WHERE device = ?1 AND seq = ?2")?
            .query_row(params![entry.device.to_string(), seq], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })
            .optional()?)
    };
    let before = match entry.seq {
        0 | 1 => Some(Sha256Hex::ZERO),
        seq => at(seq - 1)?.and_then(|(hash, _)| hash.parse().ok()),
    };
    if before != Some(entry.prev) {
        return Ok(false);
    }
    Ok(match at(entry.seq + 1)? {
        Some((_, bytes)) => Sealed::read(&bytes)?.entry.prev == line.hash,
        None => true,
    })
}

/// Whether the line behind it is here, which [`fills`] has held it against.
pub(crate) fn is_followed(db: &Connection, line: &Sealed) -> Result<bool, StoreError> {
    Ok(db
        .prepare_cached("SELECT EXISTS (SELECT 1 FROM entry WHERE device = ?1 AND seq = ?2)")?
        .query_row(
            params![
                line.entry.device.to_string(),
                line.entry.seq.saturating_add(1)
            ],
            |row| row.get(0),
        )?)
}

impl Store {
    /// The number of the last line of each device before which none is missing, so that who
    /// has more is asked for what was lost here.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn heads(&self) -> Result<BTreeMap<DeviceId, u64>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT device, MAX(seq), COUNT(*) FROM entry GROUP BY device")?;
        let rows = query.query_map([], |row| {
            Ok((
                row.get::<_, String>(0)?,
                row.get::<_, u64>(1)?,
                row.get::<_, u64>(2)?,
            ))
        })?;
        let mut heads = BTreeMap::new();
        for row in rows {
            let (name, last, count) = row?;
            let Ok(device) = name.parse() else { continue };
            let whole = if last == count {
                last
            } else {
                self.before_the_first_gap(&name)?
            };
            heads.insert(device, whole);
        }
        Ok(heads)
    }

    fn before_the_first_gap(&self, device: &str) -> Result<u64, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT seq FROM entry WHERE device = ?1 ORDER BY seq")?;
        let mut rows = query.query([device])?;
        let mut whole = 0;
        while let Some(row) = rows.next()? {
            if row.get::<_, u64>(0)? != whole + 1 {
                break;
            }
            whole += 1;
        }
        Ok(whole)
    }
}
