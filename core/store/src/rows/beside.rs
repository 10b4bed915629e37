//! Rows beside the log: settings, drafts, procedures, customers, pairings.

use std::collections::BTreeMap;

use swarfbook_job::id::{CustomerId, DeviceId, JobId};

use crate::{Customer, PairedDevice, ProcedureText, StoreError};

/// Rows by their names; the last one that was put counts.
pub(crate) trait Beside {
    fn setting(&self, name: &str) -> Result<Option<String>, StoreError>;
    fn set(&self, name: &str, value: &str) -> Result<(), StoreError>;
    /// Sets what was not set yet; whether it was not.
    fn set_first(&self, name: &str, value: &str) -> Result<bool, StoreError>;
    fn unset(&self, name: &str) -> Result<(), StoreError>;

    /// What is half typed in a job, by field.
    fn drafts(&self, job: JobId) -> Result<BTreeMap<String, String>, StoreError>;
    /// That of all jobs: job, field, text, in order.
    fn all_drafts(&self) -> Result<Vec<(JobId, String, String)>, StoreError>;
    fn put_draft(&self, job: JobId, field: &str, text: &str) -> Result<(), StoreError>;
    /// Puts it where there is none yet.
    fn put_first_draft(&self, job: JobId, field: &str, text: &str) -> Result<(), StoreError>;
    fn remove_draft(&self, job: JobId, field: &str) -> Result<(), StoreError>;

    /// By name and version.
    fn procedures(&self) -> Result<Vec<ProcedureText>, StoreError>;
    /// Puts it where that version is not there yet.
    fn put_first_procedure(&self, procedure: &ProcedureText) -> Result<(), StoreError>;

    fn customer(&self, id: CustomerId) -> Result<Option<Customer>, StoreError>;
    fn customers(&self) -> Result<Vec<Customer>, StoreError>;
    fn put_customer(&self, customer: &Customer) -> Result<(), StoreError>;

    fn peer(&self, device: DeviceId) -> Result<Option<PairedDevice>, StoreError>;
    /// The oldest pairing first.
    fn peers(&self) -> Result<Vec<PairedDevice>, StoreError>;
    fn put_peer(&self, peer: &PairedDevice) -> Result<(), StoreError>;
    /// Whether it was there.
    fn remove_peer(&self, device: DeviceId) -> Result<bool, StoreError>;
}
