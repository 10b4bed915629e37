//! How far a job's lines have come, and what came in since: so that nobody reads twice what
//! they have read.

use rusqlite::{OptionalExtension, params};
use swarfbook_job::entry::Entry;
use swarfbook_job::id::{EntryId, JobId};

use crate::log::read;
use crate::{Store, StoreError};

/// How far the lines of a job have come. Two heads are the same where the lines are: none is
/// ever changed or deleted, and no two have one id.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct JobHead {
    /// How many there are.
    pub lines: u32,
    /// The one that came in last.
    pub last: EntryId,
}

impl Store {
    /// How far the lines of a job have come; `None` where there is none.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn job_head(&self, job: JobId) -> Result<Option<JobHead>, StoreError> {
        let counted = self.counted(job)?;
        let head: Option<(u32, String)> = self
            .db
            .prepare_cached(&format!(
                "SELECT last.lines, entry.id
                 FROM (SELECT COUNT(*) AS lines, MAX(rowid) AS at FROM entry WHERE {counted}) AS last
                 JOIN entry ON entry.rowid = last.at"
            ))?
            .query_row(params![job.to_string()], |row| {
                Ok((row.get(0)?, row.get(1)?))
            })
            .optional()?;
        Ok(head.and_then(|(lines, last)| {
            Some(JobHead {
                lines,
                last: last.parse().ok()?,
            })
        }))
    }

    /// The lines of a job that came in after `head`, in the order in which they did; `None`
    /// where that is no head of this job's lines, so that all must be read.
    ///
    /// # Errors
    /// As [`Store::entries`].
    pub fn entries_behind(
        &self,
        job: JobId,
        head: &JobHead,
    ) -> Result<Option<Vec<Entry>>, StoreError> {
        let counted = self.counted(job)?;
        let mut query = self.db.prepare_cached(&format!(
            "SELECT id, hash, bytes FROM entry WHERE {counted} ORDER BY rowid LIMIT -1 OFFSET ?2"
        ))?;
        let mut rows = query.query(params![job.to_string(), head.lines.saturating_sub(1)])?;
        match rows.next()? {
            Some(row) if row.get::<_, String>(0)?.parse() == Ok(head.last) => {}
            _ => return Ok(None),
        }
        let mut entries = Vec::new();
        while let Some(row) = rows.next()? {
            entries.push(read(&row.get::<_, String>(1)?, &row.get::<_, String>(2)?)?);
        }
        Ok(Some(entries))
    }
}
