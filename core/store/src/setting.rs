//! What belongs to this device alone: settings, drafts, and the shop's procedures.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, params};
use serde::Serialize;
use serde::de::DeserializeOwned;
use swarfbook_job::id::JobId;

use crate::{Store, StoreError};

/// A procedure's file as it was added.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, serde::Deserialize)]
pub struct ProcedureText {
    /// Its name in the log.
    pub id: String,
    /// Its version.
    pub version: u32,
    /// The file.
    pub text: String,
}

impl Store {
    /// A setting, when it was ever set.
    ///
    /// # Errors
    /// [`StoreError::Setting`] when it is of another form.
    pub fn setting<T: DeserializeOwned>(&self, name: &str) -> Result<Option<T>, StoreError> {
        let kept: Option<String> = self
            .db
            .prepare_cached("SELECT value FROM setting WHERE name = ?1")?
            .query_row(params![name], |row| row.get(0))
            .optional()?;
        Ok(kept.map(|text| serde_json::from_str(&text)).transpose()?)
    }

    /// Sets a setting.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn set<T: Serialize>(&mut self, name: &str, value: &T) -> Result<(), StoreError> {
        self.writable()?;
        self.set_for_this_run(name, value)
    }

    /// Sets what the program needs for itself, as where somebody stands or who is logged in: in
    /// a store that can only be read it holds until the program ends.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn set_for_this_run<T: Serialize>(
        &mut self,
        name: &str,
        value: &T,
    ) -> Result<(), StoreError> {
        self.db
            .prepare_cached(
                "INSERT INTO setting (name, value) VALUES (?1, ?2)
                 ON CONFLICT (name) DO UPDATE SET value = excluded.value",
            )?
            .execute(params![name, serde_json::to_string(value)?])?;
        Ok(())
    }

    /// Keeps what is half typed; empty text forgets it.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn keep_draft(&mut self, job: JobId, field: &str, text: &str) -> Result<(), StoreError> {
        self.writable()?;
        if text.is_empty() {
            self.db
                .prepare_cached("DELETE FROM draft WHERE job = ?1 AND field = ?2")?
                .execute(params![job.to_string(), field])?;
        } else {
            self.db
                .prepare_cached(
                    "INSERT INTO draft (job, field, text) VALUES (?1, ?2, ?3)
                     ON CONFLICT (job, field) DO UPDATE SET text = excluded.text",
                )?
                .execute(params![job.to_string(), field, text])?;
        }
        Ok(())
    }

    /// What is half typed in a job, by field.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn drafts(&self, job: JobId) -> Result<BTreeMap<String, String>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT field, text FROM draft WHERE job = ?1")?;
        let rows = query.query_map(params![job.to_string()], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Keeps a version of a shop's procedure. The same version again changes nothing.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn add_procedure(&mut self, procedure: &ProcedureText) -> Result<(), StoreError> {
        self.writable()?;
        self.db
            .prepare_cached(
                "INSERT OR IGNORE INTO procedure (id, version, text) VALUES (?1, ?2, ?3)",
            )?
            .execute(params![procedure.id, procedure.version, procedure.text])?;
        Ok(())
    }

    /// All versions of all procedures of the shop's own.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn procedures(&self) -> Result<Vec<ProcedureText>, StoreError> {
        let mut query = self
            .db
            .prepare_cached("SELECT id, version, text FROM procedure ORDER BY id, version")?;
        let rows = query.query_map([], |row| {
            Ok(ProcedureText {
                id: row.get(0)?,
                version: row.get(1)?,
                text: row.get(2)?,
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
