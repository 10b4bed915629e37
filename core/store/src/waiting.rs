//! Lines that other devices dated more than a day ahead of this one's clock. They are kept
//! and passed on, and wait: one from the year 9999 would win over every later correction and
//! stand first in the list of jobs for ever.

use rusqlite::{Connection, params};
use swarfbook_job::clock::MAX_AHEAD_MILLIS;
use swarfbook_job::entry::Entry;
use swarfbook_job::id::JobId;

use crate::log::{read, touch};
use crate::{Store, StoreError};

impl Store {
    /// How many lines wait for the time that they are dated with.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn waiting(&self) -> Result<u64, StoreError> {
        Ok(self
            .db
            .query_row("SELECT COUNT(*) FROM waiting", [], |row| row.get(0))?)
    }

    /// Which rows of `entry` count of the job that is the first parameter. Seldom does any
    /// wait, and the index alone answers then.
    pub(crate) fn counted(&self, job: JobId) -> Result<&'static str, StoreError> {
        let waits: bool = self
            .db
            .prepare_cached("SELECT EXISTS (SELECT 1 FROM waiting WHERE job = ?1)")?
            .query_row([job.to_string()], |row| row.get(0))?;
        Ok(if waits {
            "job = ?1 AND id NOT IN (SELECT entry FROM waiting)"
        } else {
            "job = ?1"
        })
    }
}

/// From when a line counts, in milliseconds since 1970, where that is not yet. A device
/// without a time (0) holds back nothing.
pub(crate) fn until(entry: &Entry, now_millis: u64) -> Option<i64> {
    let wall = u64::try_from(entry.wall.timestamp_millis()).unwrap_or(0);
    let from = entry.hlc.millis.max(wall).saturating_sub(MAX_AHEAD_MILLIS);
    (now_millis > 0 && from > now_millis).then(|| i64::try_from(from).unwrap_or(i64::MAX))
}

/// Has a line wait.
pub(crate) fn hold(db: &Connection, entry: &Entry, until: i64) -> Result<(), StoreError> {
    db.prepare_cached("INSERT INTO waiting (entry, job, until) VALUES (?1, ?2, ?3)")?
        .execute(params![entry.id.to_string(), entry.job.to_string(), until])?;
    Ok(())
}

/// Lets those lines count whose time has come near.
pub(crate) fn release(db: &Connection, now_millis: u64) -> Result<(), StoreError> {
    let now = i64::try_from(now_millis).unwrap_or(i64::MAX);
    let due: Vec<(String, String)> = db
        .prepare_cached(
            "SELECT hash, bytes FROM entry JOIN waiting ON waiting.entry = entry.id
             WHERE until <= ?1",
        )?
        .query_map([now], |row| Ok((row.get(0)?, row.get(1)?)))?
        .collect::<Result<_, _>>()?;
    for (hash, bytes) in due {
        let entry = read(&hash, &bytes)?;
        db.prepare_cached("DELETE FROM waiting WHERE entry = ?1")?
            .execute([entry.id.to_string()])?;
        touch(db, &entry)?;
    }
    Ok(())
}
