//! How far a job's lines have come, and what came in since: so that nobody reads twice what
//! they have read.

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
        let head = self.rows(|rows| rows.job_head(job))?;
        Ok(head.map(|(lines, last)| JobHead { lines, last }))
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
        self.rows(|rows| {
            let (mut is_head, mut entries) = (None, Vec::new());
            rows.of_job(job, head.lines.saturating_sub(1), &mut |line| {
                let entry = read(&line.hash, &line.bytes)?;
                match is_head {
                    None => is_head = Some(entry.id == head.last),
                    Some(_) => entries.push(entry),
                }
                Ok(is_head == Some(true))
            })?;
            Ok((is_head == Some(true)).then_some(entries))
        })
    }
}
