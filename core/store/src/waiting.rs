//! Lines that other devices dated more than a day ahead of this one's clock. They are kept
//! and passed on, and wait: one from the year 9999 would win over every later correction and
//! stand first in the list of jobs for ever.

use swarfbook_job::clock::MAX_AHEAD_MILLIS;
use swarfbook_job::entry::Entry;

use crate::log::{read, touch};
use crate::rows::Rows;
use crate::{Store, StoreError};

impl Store {
    /// How many lines wait for the time that they are dated with.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn waiting(&self) -> Result<u64, StoreError> {
        self.rows(|rows| rows.waiting())
    }
}

/// Whether a time is more than a day ahead of this device's clock. One without a time (0)
/// holds back nothing.
pub(crate) fn is_ahead(millis: u64, now_millis: u64) -> bool {
    now_millis > 0 && millis.saturating_sub(MAX_AHEAD_MILLIS) > now_millis
}

/// From when a line counts, in milliseconds since 1970, where that is not yet.
pub(crate) fn until(entry: &Entry, now_millis: u64) -> Option<i64> {
    let wall = u64::try_from(entry.wall.timestamp_millis()).unwrap_or(0);
    let dated = entry.hlc.millis.max(wall);
    let from = dated.saturating_sub(MAX_AHEAD_MILLIS);
    is_ahead(dated, now_millis).then(|| i64::try_from(from).unwrap_or(i64::MAX))
}

/// Lets those lines count whose time has come near.
pub(crate) fn release(rows: &dyn Rows, now_millis: u64) -> Result<(), StoreError> {
    let now = i64::try_from(now_millis).unwrap_or(i64::MAX);
    for line in rows.due(now)? {
        let entry = read(&line.hash, &line.bytes)?;
        rows.release(entry.id)?;
        touch(rows, &entry)?;
    }
    Ok(())
}
