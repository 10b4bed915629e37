//! Rows of the list of jobs in SQLite, and the index of their words.

use chrono::{DateTime, FixedOffset, SecondsFormat, Utc};
use rusqlite::types::ToSql;
use rusqlite::{params, params_from_iter};
use swarfbook_job::id::{CustomerId, JobId};

use super::Sql;
use crate::rows::List;
use crate::{JobRow, JobsPage, StoreError};

/// The shortest word that the index finds; a shorter one is looked for row by row.
const INDEXED_CHARS: usize = 3;

impl List for Sql<'_> {
    fn touch(&self, job: JobId, wall: DateTime<FixedOffset>) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT INTO job_row (job, touched) VALUES (?1, ?2)
                 ON CONFLICT (job) DO UPDATE
                 SET stale = 1, touched = MAX(touched, excluded.touched)",
            )?
            .execute(params![
                job.to_string(),
                wall.to_utc().to_rfc3339_opts(SecondsFormat::Millis, true),
            ])?;
        Ok(())
    }

    fn stale(&self) -> Result<Vec<JobId>, StoreError> {
        self.ids("SELECT job FROM job_row WHERE stale = 1", [])
    }

    fn keep(&self, job: JobId, row: &str, words: &str) -> Result<(), StoreError> {
        let job = job.to_string();
        self.0
            .prepare_cached("UPDATE job_row SET row = ?2, stale = 0 WHERE job = ?1")?
            .execute(params![job, row])?;
        self.0
            .prepare_cached(
                "INSERT OR REPLACE INTO job_search (rowid, words)
                 SELECT number, ?2 FROM job_row WHERE job = ?1",
            )?
            .execute(params![job, words])?;
        Ok(())
    }

    fn find(&self, words: &[&str], skip: u32, limit: u32) -> Result<JobsPage, StoreError> {
        // A NUL would end what the index is asked.
        let indexed = |word: &&str| word.chars().count() >= INDEXED_CHARS && !word.contains('\0');
        let (long, short): (Vec<&str>, Vec<&str>) = words.iter().copied().partition(indexed);
        let phrases: String = long.iter().map(|word| quoted(word)).collect();
        let holds = |words: &[&str]| vec!["INSTR(job_search.words, ?) > 0"; words.len()];
        let mut conditions = holds(&short);
        let mut values = short;
        if !phrases.is_empty() {
            conditions.push("job_search MATCH ?");
            values.push(&phrases);
        }
        let counted = match conditions.join(" AND ") {
            none if none.is_empty() => "job_row".to_owned(),
            some => format!("job_search WHERE {some}"),
        };
        let total: u32 = self
            .0
            .prepare_cached(&format!("SELECT COUNT(*) FROM {counted}"))?
            .query_row(params_from_iter(&values), |row| row.get(0))?;
        let mut page = JobsPage {
            rows: Vec::new(),
            total,
        };
        let wanted = if words.is_empty() {
            "job_row".to_owned()
        } else if self.are_common(total, skip.saturating_add(limit))? {
            // The newest are soon found row by row; to sort all that fit is not soon done.
            let each = holds(words).join(" AND ");
            values = words.to_vec();
            format!(
                "job_row CROSS JOIN job_search ON job_search.rowid = job_row.number WHERE {each}"
            )
        } else {
            format!(
                "job_search JOIN job_row ON job_row.number = job_search.rowid WHERE {}",
                conditions.join(" AND ")
            )
        };
        let mut query = self.0.prepare_cached(&format!(
            "SELECT job, touched, row FROM {wanted} ORDER BY touched DESC, job LIMIT ? OFFSET ?"
        ))?;
        let range: [&dyn ToSql; 2] = [&limit, &skip];
        let values = values.iter().map(|value| value as &dyn ToSql);
        let rows = query.query_map(params_from_iter(values.chain(range)), |row| {
            Ok((
                row.get::<_, String>(0)?,
                row.get::<_, DateTime<Utc>>(1)?,
                row.get::<_, String>(2)?,
            ))
        })?;
        for row in rows {
            let (job, touched, row) = row?;
            if let Ok(job) = job.parse() {
                page.rows.push(JobRow { job, touched, row });
            }
        }
        Ok(page)
    }

    fn of_car(&self, car: &str, limit: u32) -> Result<Vec<JobId>, StoreError> {
        self.ids(
            "SELECT car_named.job FROM car_named JOIN job_row USING (job)
             WHERE car = ?1 ORDER BY touched DESC, job LIMIT ?2",
            params![car, limit],
        )
    }

    fn forget_customer(&self, customer: CustomerId) -> Result<(), StoreError> {
        let customer = customer.to_string();
        self.0
            .prepare_cached(
                "DELETE FROM job_search WHERE rowid IN
                 (SELECT number FROM job_row JOIN customer_named USING (job) WHERE customer = ?1)",
            )?
            .execute(params![customer])?;
        self.0
            .prepare_cached(
                "UPDATE job_row SET stale = 1 WHERE job IN
                 (SELECT job FROM customer_named WHERE customer = ?1)",
            )?
            .execute(params![customer])?;
        Ok(())
    }
}

impl Sql<'_> {
    /// Whether so many rows fit that the first `wanted` of them come sooner by going through all
    /// rows from the newest on.
    fn are_common(&self, fit: u32, wanted: u32) -> Result<bool, StoreError> {
        let all: Option<u32> = self
            .0
            .prepare_cached("SELECT MAX(number) FROM job_row")?
            .query_row([], |row| row.get(0))?;
        let all = u64::from(all.unwrap_or(0));
        Ok(u64::from(wanted) * all < u64::from(fit).pow(2))
    }
}

/// A word as the index takes it, whatever signs are in it.
fn quoted(word: &str) -> String {
    format!("\"{}\" ", word.replace('"', "\"\""))
}
