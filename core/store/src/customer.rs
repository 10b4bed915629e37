//! Customers: beside the log, so that they can be erased without breaking it.
//! The last change wins, by hybrid clock, then by device; erasing always wins.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_job::clock::Hlc;
use swarfbook_job::id::{CustomerId, DeviceId};

use crate::rows::Rows;
use crate::{Store, StoreError};

/// A customer as last changed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Customer {
    /// By which the log names them.
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
        &self,
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
        &self,
        id: CustomerId,
        now: DateTime<FixedOffset>,
    ) -> Result<(), StoreError> {
        self.change_customer(id, "", "", true, now)?;
        // The old name must not stay readable in free pages or the write-ahead log.
        self.log.wipe()
    }

    fn change_customer(
        &self,
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
    pub fn merge_customers(&self, customers: &[Customer]) -> Result<(), StoreError> {
        self.at_once(|rows| customers.iter().try_for_each(|theirs| merge(rows, theirs)))
    }

    /// One customer.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn customer(&self, id: CustomerId) -> Result<Option<Customer>, StoreError> {
        self.rows(|rows| rows.customer(id))
    }

    /// All customers, for a peer.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn customers(&self) -> Result<Vec<Customer>, StoreError> {
        self.rows(|rows| rows.customers())
    }
}

fn merge(rows: &dyn Rows, theirs: &Customer) -> Result<(), StoreError> {
    let wins = match rows.customer(theirs.id)? {
        None => true,
        Some(ours) if ours.erased != theirs.erased => theirs.erased,
        Some(ours) => (theirs.hlc, theirs.device) > (ours.hlc, ours.device),
    };
    if wins {
        rows.put_customer(theirs)?;
        // Whoever is named shows in the list of jobs.
        rows.forget_customer(theirs.id)?;
    }
    Ok(())
}
