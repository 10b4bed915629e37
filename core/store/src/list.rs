//! The list of jobs: derived rows, made anew when the log has moved on.

use chrono::{DateTime, Utc};
use swarfbook_job::fact::Car;
use swarfbook_job::id::JobId;

use crate::rows::Rows;
use crate::{Store, StoreError};

/// A row of the list as kept.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobRow {
    /// The one that the row is of.
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
        self.rows(|rows| rows.stale())
    }

    /// Keeps the rows of jobs, with the words that a search finds them by.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn refresh(&self, made: &[(JobId, String, String)]) -> Result<(), StoreError> {
        self.for_this_run(|rows| {
            let mut made = made.iter();
            made.try_for_each(|(job, row, search)| rows.keep(*job, row, &search.to_lowercase()))
        })
    }

    /// Jobs whose search words hold every word of `search`, newest line first.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn jobs(&self, search: &str, skip: u32, limit: u32) -> Result<JobsPage, StoreError> {
        let search = search.to_lowercase();
        let words: Vec<&str> = search.split_whitespace().collect();
        self.rows(|rows| rows.find(&words, skip, limit))
    }

    /// Jobs of which a line once named this plate or this VIN, at most `limit` of each, the
    /// newest first. What such a job says of its car by now, its fold tells.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn jobs_of_car(&self, car: &Car, limit: u32) -> Result<Vec<JobId>, StoreError> {
        self.rows(|rows| {
            let mut jobs: Vec<JobId> = Vec::new();
            for name in names(car) {
                let found = rows.of_car(&name, limit)?;
                let new = found.into_iter().filter(|job| !jobs.contains(job));
                let new: Vec<JobId> = new.collect();
                jobs.extend(new);
            }
            Ok(jobs)
        })
    }
}

/// Notes that a line of a job names a car.
pub(crate) fn name_car(rows: &dyn Rows, car: &Car, job: JobId) -> Result<(), StoreError> {
    names(car).try_for_each(|name| rows.name_car(&name, job))
}

/// What a car is found by: its plate and its VIN, in lower case.
fn names(car: &Car) -> impl Iterator<Item = String> {
    let named = [Some(car.plate.as_str()), car.vin.as_deref()];
    let named = named.into_iter().flatten().map(str::trim);
    named
        .filter(|name| !name.is_empty())
        .map(str::to_ascii_lowercase)
}
