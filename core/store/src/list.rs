//! The list of jobs: derived rows, made anew when the log has moved on.

use chrono::{DateTime, Utc};
use rusqlite::types::ToSql;
use rusqlite::{Connection, params, params_from_iter};
use swarfbook_job::fact::Car;
use swarfbook_job::id::{CustomerId, JobId};

use crate::{Store, StoreError};

/// The shortest word that the index finds; a shorter one is looked for row by row.
const INDEXED_CHARS: usize = 3;

/// A row of the list as kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRow {
    /// The job.
    pub job: JobId,
    /// When its last line was written.
    pub touched: DateTime<Utc>,
    /// What `refresh` was given; the store does not look into it.
    pub row: String,
}

/// Some rows of the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobsPage {
    /// Newest first.
    pub rows: Vec<JobRow>,
    /// How many there are that fit.
    pub total: u32,
}

impl Store {
    /// Jobs whose row is older than their log.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn stale_jobs(&self) -> Result<Vec<JobId>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT job FROM job_row WHERE stale = 1")?;
        let rows = query.query_map([], |row| row.get::<_, String>(0))?;
        let mut jobs = Vec::new();
        for row in rows {
            jobs.extend(row?.parse::<JobId>().ok());
        }
        Ok(jobs)
    }

    /// Keeps the rows of jobs, with the words that a search finds them by.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn refresh(&mut self, rows: &[(JobId, String, String)]) -> Result<(), StoreError> {
        let tx = self.db.transaction()?;
        for (job, row, search) in rows {
            let job = job.to_string();
            tx.prepare_cached("UPDATE job_row SET row = ?2, stale = 0 WHERE job = ?1")?
                .execute(params![job, row])?;
            tx.prepare_cached(
                "INSERT OR REPLACE INTO job_search (rowid, words)
                 SELECT number, ?2 FROM job_row WHERE job = ?1",
            )?
            .execute(params![job, search.to_lowercase()])?;
        }
        tx.commit()?;
        Ok(())
    }

    /// Jobs whose search words hold every word of `search`, newest line first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn jobs(&self, search: &str, skip: u32, limit: u32) -> Result<JobsPage, StoreError> {
        let search = search.to_lowercase();
        let words: Vec<&str> = search.split_whitespace().collect();
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
            .db
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
            let each = holds(&words).join(" AND ");
            values = words;
            format!(
                "job_row CROSS JOIN job_search ON job_search.rowid = job_row.number WHERE {each}"
            )
        } else {
            format!(
                "job_search JOIN job_row ON job_row.number = job_search.rowid WHERE {}",
                conditions.join(" AND ")
            )
        };
        let mut query = self.db.prepare_cached(&format!(
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

    /// Whether so many rows fit that the first `wanted` of them come sooner by going through all
    /// rows from the newest on.
    fn are_common(&self, fit: u32, wanted: u32) -> Result<bool, StoreError> {
        let all: Option<u32> = self
            .db
            .prepare_cached("SELECT MAX(number) FROM job_row")?
            .query_row([], |row| row.get(0))?;
        let all = u64::from(all.unwrap_or(0));
        Ok(u64::from(wanted) * all < u64::from(fit).pow(2))
    }

    /// Jobs of which a line once named this plate or this VIN, at most `limit` of each, the
    /// newest first. What such a job says of its car by now, its fold tells.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn jobs_of_car(&self, car: &Car, limit: u32) -> Result<Vec<JobId>, StoreError> {
        let mut query = self.db.prepare_cached(
            "SELECT car_named.job FROM car_named JOIN job_row USING (job)
             WHERE car = ?1 ORDER BY touched DESC, job LIMIT ?2",
        )?;
        let mut jobs: Vec<JobId> = Vec::new();
        for name in names(car) {
            let rows = query.query_map(params![name, limit], |row| row.get::<_, String>(0))?;
            for row in rows {
                let job = row?.parse().ok();
                jobs.extend(job.filter(|job| !jobs.contains(job)));
            }
        }
        Ok(jobs)
    }
}

/// Makes the rows of a customer's jobs stale, and no longer found by what they say.
pub(crate) fn forget_customer(db: &Connection, customer: CustomerId) -> Result<(), StoreError> {
    let customer = customer.to_string();
    db.prepare_cached(
        "DELETE FROM job_search WHERE rowid IN
         (SELECT number FROM job_row JOIN customer_named USING (job) WHERE customer = ?1)",
    )?
    .execute(params![customer])?;
    db.prepare_cached(
        "UPDATE job_row SET stale = 1 WHERE job IN
         (SELECT job FROM customer_named WHERE customer = ?1)",
    )?
    .execute(params![customer])?;
    Ok(())
}

/// Notes that a line of a job names a car.
pub(crate) fn name_car(db: &Connection, car: &Car, job: JobId) -> Result<(), StoreError> {
    for name in names(car) {
        db.prepare_cached("INSERT OR IGNORE INTO car_named (car, job) VALUES (?1, ?2)")?
            .execute(params![name, job.to_string()])?;
    }
    Ok(())
}

/// What a car is found by: its plate and its VIN, in lower case.
fn names(car: &Car) -> impl Iterator<Item = String> {
    let named = [Some(car.plate.as_str()), car.vin.as_deref()];
    let named = named.into_iter().flatten().map(str::trim);
    named
        .filter(|name| !name.is_empty())
        .map(str::to_ascii_lowercase)
}

/// A word as the index takes it, whatever signs are in it.
fn quoted(word: &str) -> String {
    format!("\"{}\" ", word.replace('"', "\"\""))
}
