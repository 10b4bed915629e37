//! Taking an export in.

use std::collections::BTreeMap;
use std::io::{Read, Seek};

use rusqlite::params;
use serde_json::Value;

use super::archive::Archive;
use super::{CUSTOMERS, DRAFTS, Draft, Exported, PROCEDURES, SETTINGS};
use crate::{Customer, Imported, ProcedureText, Store, StoreError};

impl Store {
    /// Takes in all that an export holds and this store lacks: lines by their
    /// chains, photos by their hashes, customers as in sync. A setting or draft
    /// that is here already stays. `refuse` sees the export's settings first and
    /// may say why it must not come in. Gives what was new.
    ///
    /// # Errors
    /// [`StoreError::Export`] when the file is no whole export or was changed,
    /// [`StoreError::Gap`] and [`StoreError::Fork`] when its lines do not fit
    /// those here, [`StoreError::Full`] and the like. No line came in then.
    pub fn import_export(
        &mut self,
        from: impl Read + Seek,
        now_millis: u64,
        refuse: impl FnOnce(&BTreeMap<String, Value>) -> Option<String>,
    ) -> Result<Exported, StoreError> {
        let mut archive = Archive::open(from)?;
        // Everything is looked at before anything is written.
        archive.look_through()?;
        let settings: BTreeMap<String, Value> = archive.json(SETTINGS)?;
        if let Some(why) = refuse(&settings) {
            return Err(StoreError::Export(why));
        }
        let customers: Vec<Customer> = archive.rows(CUSTOMERS)?;
        let procedures: Vec<ProcedureText> = archive.rows(PROCEDURES)?;
        let drafts: Vec<Draft> = archive.rows(DRAFTS)?;

        let mut new = Exported::default();
        for photo in archive.photos()? {
            if !self.has_photo(photo) {
                // Before the lines that name it, as everywhere.
                self.put_photo(&archive.photo(photo)?)?;
                self.arrived_whole(photo);
                new.photos += 1;
            }
        }
        self.import_fed(now_millis, |take| {
            archive.each_line(|line| {
                new.entries += u64::from(take(line)? == Imported::New);
                Ok(())
            })
        })?;
        let known = self.customers()?.len();
        self.merge_customers(&customers)?;
        new.customers = (self.customers()?.len() - known) as u64;
        let known = self.procedures()?.len();
        for procedure in &procedures {
            self.add_procedure(procedure)?;
        }
        new.procedures = (self.procedures()?.len() - known) as u64;
        for (name, value) in &settings {
            if self.setting::<Value>(name)?.is_none() {
                self.set(name, value)?;
            }
        }
        for draft in &drafts {
            self.db.execute(
                "INSERT OR IGNORE INTO draft (job, field, text) VALUES (?1, ?2, ?3)",
                params![draft.job.to_string(), draft.field, draft.text],
            )?;
        }
        Ok(new)
    }
}
