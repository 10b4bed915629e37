//! Rows of the list of jobs, which are derived.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::id::{CustomerId, JobId};

use crate::{JobsPage, StoreError};

/// One row a job, with the words that it is found by.
pub(crate) trait List {
    /// A job has a line more, written at this time: its row is stale from now on.
    fn touch(&self, job: JobId, wall: DateTime<FixedOffset>) -> Result<(), StoreError>;

    /// Jobs whose row is stale.
    fn stale(&self) -> Result<Vec<JobId>, StoreError>;

    /// Keeps a row, in place of a stale one, and the words in lower case that it is found by.
    fn keep(&self, job: JobId, row: &str, words: &str) -> Result<(), StoreError>;

    /// Rows whose words hold each of these, newest line first.
    fn find(&self, words: &[&str], skip: u32, limit: u32) -> Result<JobsPage, StoreError>;

    /// Jobs that were noted with this plate or VIN, the newest line first.
    fn of_car(&self, car: &str, limit: u32) -> Result<Vec<JobId>, StoreError>;

    /// Makes the rows of a customer's jobs stale, and no longer found by their words.
    fn forget_customer(&self, customer: CustomerId) -> Result<(), StoreError>;
}
