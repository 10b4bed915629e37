//! Customers: beside the log, so that they can be erased without breaking it.
//! The last change wins, by hybrid clock, then by device; erasing always wins.

use chrono::{DateTime, FixedOffset};
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use swarfbook_job::clock::Hlc;
use swarfbook_job::id::{CustomerId, DeviceId};

use crate::{Store, StoreError, list};

/// A customer as last changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Customer {
    /// Reference.
    pub id: CustomerId,
    /// Name; empty when erased.
    pub name: String,
    /// Contact; empty when erased.
    pub contact: String,
    /// Name and contact were erased, for good.
    pub erased: bool,
    /// When it was last changed.
    pub hlc: Hlc,
    /// By which device.
    pub device: DeviceId,
}

impl Store {
    /// Keeps a customer's name and contact as of `now`.
    ///
    /// # Errors
    /// As SQLite's. A customer that was erased stays erased.
    pub fn save_customer(
        &mut self,
        id: CustomerId,
        name: &str,
        contact: &str,
        now: DateTime<FixedOffset>,
    ) -> Result<(), StoreError> {
        self.change_customer(id, name, contact, false, now)
    }

    /// Erases a customer's name and contact.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn erase_customer(
        &mut self,
        id: CustomerId,
        now: DateTime<FixedOffset>,
    ) -> Result<(), StoreError> {
        self.change_customer(id, "", "", true, now)?;
        // The old name must not stay readable in free pages or the write-ahead log.
        self.db
            .execute_batch("PRAGMA secure_delete = ON; VACUUM; PRAGMA wal_checkpoint(TRUNCATE);")?;
        Ok(())
    }

    fn change_customer(
        &mut self,
        id: CustomerId,
        name: &str,
        contact: &str,
        erased: bool,
        now: DateTime<FixedOffset>,
    ) -> Result<(), StoreError> {
        let before = self.customer(id)?.map(|c| c.hlc).unwrap_or_default();
        let customer = Customer {
            id,
            name: name.to_owned(),
            contact: contact.to_owned(),
            erased,
            hlc: before.tick(u64::try_from(now.timestamp_millis()).unwrap_or(0)),
            device: self.device(),
        };
        self.merge_customers(&[customer])
    }

    /// Takes in customers as another store has them.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn merge_customers(&mut self, customers: &[Customer]) -> Result<(), StoreError> {
        self.at_once(|db| customers.iter().try_for_each(|theirs| merge(db, theirs)))
    }

    /// One customer.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn customer(&self, id: CustomerId) -> Result<Option<Customer>, StoreError> {
        find(&self.db, id)
    }

    /// All customers, for a peer.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn customers(&self) -> Result<Vec<Customer>, StoreError> {
        let mut query = self.db.prepare_cached(SELECT_ALL)?;
        let rows = query.query_map([], read)?;
        let mut customers = Vec::new();
        for row in rows {
            customers.extend(row?);
        }
        Ok(customers)
    }
}

fn merge(db: &Connection, theirs: &Customer) -> Result<(), StoreError> {
    let wins = match find(db, theirs.id)? {
        None => true,
        Some(ours) if ours.erased != theirs.erased => theirs.erased,
        Some(ours) => (theirs.hlc, theirs.device) > (ours.hlc, ours.device),
    };
    if wins {
        put(db, theirs)?;
        // Whoever is named shows in the list of jobs.
        list::forget_customer(db, theirs.id)?;
    }
    Ok(())
}

const SELECT_ALL: &str =
    "SELECT id, name, contact, erased, hlc_millis, hlc_counter, device FROM customer";

fn find(db: &Connection, id: CustomerId) -> Result<Option<Customer>, StoreError> {
    Ok(db
        .prepare_cached(&format!("{SELECT_ALL} WHERE id = ?1"))?
        .query_row(params![id.to_string()], read)
        .optional()?
        .flatten())
}

fn put(db: &Connection, customer: &Customer) -> Result<(), StoreError> {
    db.prepare_cached(
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

fn read(row: &rusqlite::Row<'_>) -> rusqlite::Result<Option<Customer>> {
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
