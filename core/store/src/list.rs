//! The list of jobs: derived lines, made anew when the log has moved on.

use chrono::{DateTime, Utc};
use rusqlite::params;
use swarfbook_job::id::JobId;

use crate::{Store, StoreError};

/// A line of the list as kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRow {
    /// The job.
    pub job: JobId,
    /// When its last line was written.
    pub touched: DateTime<Utc>,
    /// What `refresh` was given; the store does not look into it.
    pub line: String,
}

/// Some lines of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobsPage {
    /// Newest first.
    pub rows: Vec<JobRow>,
    /// How many there are that fit.
    pub total: u32,
}

impl Store {
    /// Jobs whose line is older than their log.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn stale_jobs(&self) -> Result<Vec<JobId>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT job FROM job_line WHERE stale = 1")?;
        let rows = query.query_map([], |row| row.get::<_, String>(0))?;
        let mut jobs = Vec::new();
        for row in rows {
            jobs.extend(row?.parse::<JobId>().ok());
        }
        Ok(jobs)
    }

    /// Keeps the lines of jobs, with the words that a search finds them by.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn refresh(&mut self, lines: &[(JobId, String, String)]) -> Result<(), StoreError> {
        let tx = self.db.transaction()?;
        for (job, line, search) in lines {
            tx.prepare_cached(
                "UPDATE job_line SET line = ?2, search = ?3, stale = 0 WHERE job = ?1",
            )?
            .execute(params![job.to_string(), line, search.to_lowercase()])?;
        }
        tx.commit()?;
        Ok(())
    }

    /// Jobs whose search words hold every word of `search`, newest line first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn jobs(&self, search: &str, skip: u32, limit: u32) -> Result<JobsPage, StoreError> {
        let words: Vec<String> = search
            .to_lowercase()
            .split_whitespace()
            .map(str::to_owned)
            .collect();
        let filter = "INSTR(search, ?) > 0";
        let condition = if words.is_empty() {
            "1".to_owned()
        } else {
            vec![filter; words.len()].join(" AND ")
        };
        let total: u32 = self.db.query_row(
            &format!("SELECT COUNT(*) FROM job_line WHERE {condition}"),
            rusqlite::params_from_iter(&words),
            |row| row.get(0),
        )?;
        let mut query = self.db.prepare(&format!(
            "SELECT job, touched, line FROM job_line WHERE {condition}
             ORDER BY touched DESC, job LIMIT {limit} OFFSET {skip}"
        ))?;
        let rows = query.query_map(rusqlite::params_from_iter(&words), |row| {
            Ok((
                row.get::<_, String>(0)?,
                row.get::<_, DateTime<Utc>>(1)?,
                row.get::<_, String>(2)?,
            ))
        })?;
        let mut page = JobsPage {
            rows: Vec::new(),
            total,
        };
        for row in rows {
            let (job, touched, line) = row?;
            if let Ok(job) = job.parse() {
                page.rows.push(JobRow { job, touched, line });
            }
        }
        Ok(page)
    }
}
