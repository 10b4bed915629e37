//! Rows beside the log in SQLite.

use std::collections::BTreeMap;

use rusqlite::{OptionalExtension, Row, params};
use swarfbook_job::clock::Hlc;
use swarfbook_job::id::{CustomerId, DeviceId, JobId};

use super::Sql;
use crate::rows::Beside;
use crate::{Customer, PairedDevice, ProcedureText, StoreError};

const CUSTOMER: &str =
    "SELECT id, name, contact, erased, hlc_millis, hlc_counter, device FROM customer";
const PEER: &str = "SELECT device, name, public_key, paired FROM peer";

impl Beside for Sql<'_> {
    fn setting(&self, name: &str) -> Result<Option<String>, StoreError> {
        Ok(self
            .0
            .prepare_cached("SELECT value FROM setting WHERE name = ?1")?
            .query_row([name], |row| row.get(0))
            .optional()?)
    }

    fn set(&self, name: &str, value: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT INTO setting (name, value) VALUES (?1, ?2)
                 ON CONFLICT (name) DO UPDATE SET value = excluded.value",
            )?
            .execute([name, value])?;
        Ok(())
    }

    fn set_first(&self, name: &str, value: &str) -> Result<bool, StoreError> {
        let set = self
            .0
            .prepare_cached("INSERT OR IGNORE INTO setting (name, value) VALUES (?1, ?2)")?
            .execute([name, value])?;
        Ok(set > 0)
    }

    fn unset(&self, name: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached("DELETE FROM setting WHERE name = ?1")?
            .execute([name])?;
        Ok(())
    }

    fn drafts(&self, job: JobId) -> Result<BTreeMap<String, String>, StoreError> {
        let mut query = self
            .0
            .prepare_cached("SELECT field, text FROM draft WHERE job = ?1")?;
        let rows = query.query_map([job.to_string()], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    fn all_drafts(&self) -> Result<Vec<(JobId, String, String)>, StoreError> {
        let mut query = self
            .0
            .prepare_cached("SELECT job, field, text FROM draft ORDER BY job, field")?;
        let rows = query.query_map([], |row| {
            Ok((row.get::<_, String>(0)?, row.get(1)?, row.get(2)?))
        })?;
        let mut drafts = Vec::new();
        for row in rows {
            let (job, field, text) = row?;
            drafts.extend(job.parse().ok().map(|job| (job, field, text)));
        }
        Ok(drafts)
    }

    fn put_draft(&self, job: JobId, field: &str, text: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT INTO draft (job, field, text) VALUES (?1, ?2, ?3)
                 ON CONFLICT (job, field) DO UPDATE SET text = excluded.text",
            )?
            .execute(params![job.to_string(), field, text])?;
        Ok(())
    }

    fn put_first_draft(&self, job: JobId, field: &str, text: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached("INSERT OR IGNORE INTO draft (job, field, text) VALUES (?1, ?2, ?3)")?
            .execute(params![job.to_string(), field, text])?;
        Ok(())
    }

    fn remove_draft(&self, job: JobId, field: &str) -> Result<(), StoreError> {
        self.0
            .prepare_cached("DELETE FROM draft WHERE job = ?1 AND field = ?2")?
            .execute(params![job.to_string(), field])?;
        Ok(())
    }

    fn procedures(&self) -> Result<Vec<ProcedureText>, StoreError> {
        let mut query = self
            .0
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

    fn put_first_procedure(&self, procedure: &ProcedureText) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT OR IGNORE INTO procedure (id, version, text) VALUES (?1, ?2, ?3)",
            )?
            .execute(params![procedure.id, procedure.version, procedure.text])?;
        Ok(())
    }

    fn customer(&self, id: CustomerId) -> Result<Option<Customer>, StoreError> {
        Ok(self
            .0
            .prepare_cached(&format!("{CUSTOMER} WHERE id = ?1"))?
            .query_row([id.to_string()], customer)
            .optional()?
            .flatten())
    }

    fn customers(&self) -> Result<Vec<Customer>, StoreError> {
        let mut query = self.0.prepare_cached(CUSTOMER)?;
        let rows = query.query_map([], customer)?;
        Ok(rows
            .filter_map(Result::transpose)
            .collect::<Result<_, _>>()?)
    }

    fn put_customer(&self, customer: &Customer) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT OR REPLACE INTO customer
                 (id, name, contact, erased, hlc_millis, hlc_counter, device)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
            )?
            .execute(params![
                customer.id.to_string(),
                customer.name,
                customer.contact,
                customer.erased,
                customer.hlc.millis,
                customer.hlc.counter,
                customer.device.to_string(),
            ])?;
        Ok(())
    }

    fn peer(&self, device: DeviceId) -> Result<Option<PairedDevice>, StoreError> {
        Ok(self
            .0
            .prepare_cached(&format!("{PEER} WHERE device = ?1"))?
            .query_row([device.to_string()], peer)
            .optional()?
            .flatten())
    }

    fn peers(&self) -> Result<Vec<PairedDevice>, StoreError> {
        let mut query = self.0.prepare_cached(&format!("{PEER} ORDER BY paired"))?;
        let rows = query.query_map([], peer)?;
        Ok(rows
            .filter_map(Result::transpose)
            .collect::<Result<_, _>>()?)
    }

    fn put_peer(&self, peer: &PairedDevice) -> Result<(), StoreError> {
        self.0
            .prepare_cached(
                "INSERT OR REPLACE INTO peer (device, name, public_key, paired)
                 VALUES (?1, ?2, ?3, ?4)",
            )?
            .execute(params![
                peer.device.to_string(),
                peer.name,
                peer.public_key,
                peer.paired,
            ])?;
        Ok(())
    }

    fn remove_peer(&self, device: DeviceId) -> Result<bool, StoreError> {
        let removed = self
            .0
            .execute("DELETE FROM peer WHERE device = ?1", [device.to_string()])?;
        Ok(removed > 0)
    }
}

/// None where an id is not one.
fn customer(row: &Row<'_>) -> rusqlite::Result<Option<Customer>> {
    let (id, device) = (row.get::<_, String>(0)?, row.get::<_, String>(6)?);
    let (Ok(id), Ok(device)) = (id.parse(), device.parse()) else {
        return Ok(None);
    };
    Ok(Some(Customer {
        id,
        name: row.get(1)?,
        contact: row.get(2)?,
        erased: row.get(3)?,
        hlc: Hlc {
            millis: row.get(4)?,
            counter: row.get(5)?,
        },
        device,
    }))
}

fn peer(row: &Row<'_>) -> rusqlite::Result<Option<PairedDevice>> {
    let Ok(device) = row.get::<_, String>(0)?.parse() else {
        return Ok(None);
    };
    Ok(Some(PairedDevice {
        device,
        name: row.get(1)?,
        public_key: row.get(2)?,
        paired: row.get(3)?,
    }))
}
