//! What belongs to this device alone: settings, drafts, and the shop's procedures.

use std::collections::BTreeMap;

use serde::Serialize;
use serde::de::DeserializeOwned;
use swarfbook_job::id::JobId;

use crate::{Store, StoreError};

/// A procedure's file as it was added.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, serde::Deserialize)]
pub struct ProcedureText {
    /// Its name in the log.
    pub id: String,
    /// Version that the file says.
    pub version: u32,
    /// The file as it was added (TOML).
    pub text: String,
}

impl Store {
    /// A setting, when it was ever set.
    ///
    /// # Errors
    /// [`StoreError::Setting`] when it is of another form.
    pub fn setting<T: DeserializeOwned>(&self, name: &str) -> Result<Option<T>, StoreError> {
        let kept = self.rows(|rows| rows.setting(name))?;
        Ok(kept.map(|text| serde_json::from_str(&text)).transpose()?)
    }

    /// Sets a setting.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn set<T: Serialize>(&self, name: &str, value: &T) -> Result<(), StoreError> {
        self.writable()?;
        self.set_for_this_run(name, value)
    }

    /// Sets what the program needs for itself, as where somebody stands or who is logged in: in
    /// a store that can only be read it holds until the program ends.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn set_for_this_run<T: Serialize>(&self, name: &str, value: &T) -> Result<(), StoreError> {
        let value = serde_json::to_string(value)?;
        self.for_this_run(|rows| rows.set(name, &value))
    }

    /// The same unless it is set already; gives what is kept from now on.
    ///
    /// # Errors
    /// As [`Store::setting`].
    pub fn set_first_for_this_run<T: Serialize + DeserializeOwned>(
        &self,
        name: &str,
        value: T,
    ) -> Result<T, StoreError> {
        let text = serde_json::to_string(&value)?;
        let kept = self.for_this_run(|rows| {
            rows.set_first(name, &text)?;
            rows.setting(name)
        })?;
        Ok(match kept {
            Some(kept) => serde_json::from_str(&kept)?,
            None => value,
        })
    }

    /// Keeps what is half typed; empty text forgets it.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn keep_draft(&self, job: JobId, field: &str, text: &str) -> Result<(), StoreError> {
        self.at_once(|rows| match text {
            "" => rows.remove_draft(job, field),
            text => rows.put_draft(job, field, text),
        })
    }

    /// What is half typed in a job, by field.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn drafts(&self, job: JobId) -> Result<BTreeMap<String, String>, StoreError> {
        self.rows(|rows| rows.drafts(job))
    }

    /// Keeps a version of a shop's procedure. The same version again changes nothing.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn add_procedure(&self, procedure: &ProcedureText) -> Result<(), StoreError> {
        self.at_once(|rows| rows.put_first_procedure(procedure))
    }

    /// All versions of all procedures of the shop's own.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn procedures(&self) -> Result<Vec<ProcedureText>, StoreError> {
        self.rows(|rows| rows.procedures())
    }
}
