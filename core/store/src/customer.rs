//! Customers: beside the log, so that they can be erased without breaking it.
//! The last change wins, by hybrid clock, then by device; erasing always wins. One that is dated
//! more than a day ahead, as [`crate::waiting`] has it of lines, wins over none that is not.

use chrono::{DateTime, FixedOffset};
use serde::{Deserialize, Serialize};
use swarfbook_job::clock::Hlc;
use swarfbook_job::id::{CustomerId, DeviceId};

use crate::log::clock;
use crate::rows::Rows;
use crate::waiting::is_ahead;
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
        let now_millis = u64::try_from(now.timestamp_millis()).unwrap_or(0);
        // A clock that went back is no reason to lose against what was written before.
        let clock = self.rows(|rows| clock(rows))?.tick(now_millis);
        let before = self.customer(id)?.map(|customer| customer.hlc);
        let before = before.filter(|hlc| !is_ahead(hlc.millis, clock.millis));
        let customer = Customer {
            id,
            name: name.to_owned(),
            contact: contact.to_owned(),
            erased,
            hlc: before.unwrap_or_default().tick(now_millis),
            device: self.device(),
        };
        self.merge_customers(&[customer], clock.millis)?;
        Ok(())
    }

    /// Takes in customers as another store has them. Gives back those of which another stands
    /// here until the time that they are dated with is near.
    ///
    /// # Errors
    /// As SQLite's.
    pub fn merge_customers(
        &self,
        customers: &[Customer],
        now_millis: u64,
    ) -> Result<Vec<CustomerId>, StoreError> {
        self.at_once(|rows| {
            let mut wait = Vec::new();
            for theirs in customers {
                if merge(rows, theirs, now_millis)? == Merged::Waits {
                    wait.push(theirs.id);
                }
            }
            Ok(wait)
        })
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

/// What became of a customer from another store.
#[derive(PartialEq, Eq)]
enum Merged {
    Wins,
    Loses,
    /// It would win, were it not dated ahead.
    Waits,
}

fn merge(rows: &dyn Rows, theirs: &Customer, now_millis: u64) -> Result<Merged, StoreError> {
    // Who is erased stays so; of two that are alike in that the one that is not dated ahead wins, then the later one.
    let is_near = |customer: &Customer| !is_ahead(customer.hlc.millis, now_millis);
    let rank = |c: &Customer| (c.erased, is_near(c), c.hlc, c.device);
    let merged = match rows.customer(theirs.id)? {
        Some(ours) if rank(theirs) <= rank(&ours) => {
            let waits = ours.erased == theirs.erased && is_near(&ours) && !is_near(theirs);
            if waits { Merged::Waits } else { Merged::Loses }
        }
        _ => Merged::Wins,
    };
    if merged == Merged::Wins {
        rows.put_customer(theirs)?;
        // Whoever is named shows in the list of jobs.
        rows.forget_customer(theirs.id)?;
    }
    Ok(merged)
}
