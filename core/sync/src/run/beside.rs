//! Customers and procedures, there and back.

use std::collections::BTreeMap;
use std::ops::Deref;

use swarfbook_job::id::CustomerId;
use swarfbook_store::{Customer, Store};

use super::{Outcome, SyncError, calls};
use crate::digest;
use crate::message::Standing;
use crate::peer::Peer;
use crate::serve::{CUSTOMERS_AT_ONCE, take_in_customers, take_in_procedure};

pub(super) fn customers<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    theirs: &Standing,
    now_millis: u64,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    let ours = store().customers()?;
    if digest::of_customers(ours.clone()) == theirs.customers {
        return Ok(());
    }
    let before: BTreeMap<CustomerId, Customer> = by_id(ours);
    let mut there = BTreeMap::new();
    let mut after = None;
    loop {
        let page = calls::customers(hub, after)?;
        let Some(last) = page.last().map(|customer| customer.id) else {
            break;
        };
        if after.is_some_and(|after| last <= after) {
            break;
        }
        after = Some(last);
        let news: Vec<Customer> = page
            .iter()
            .filter(|customer| before.get(&customer.id) != Some(customer))
            .cloned()
            .collect();
        there.extend(by_id(page));
        let refused = take_in_customers(&store(), news, now_millis)?;
        outcome.refused.extend(refused);
    }
    let merged = by_id(store().customers()?);
    let count = |changed: usize| u32::try_from(changed).unwrap_or(u32::MAX);
    let taken = merged.iter().filter(|(id, c)| before.get(id) != Some(c));
    outcome.beside += count(taken.count());
    let news: Vec<Customer> = merged
        .into_values()
        .filter(|customer| there.get(&customer.id) != Some(customer))
        .collect();
    for some in news.chunks(CUSTOMERS_AT_ONCE) {
        outcome.refused.extend(calls::push_customers(hub, some)?);
        outcome.beside += count(some.len());
    }
    Ok(())
}

fn by_id(customers: Vec<Customer>) -> BTreeMap<CustomerId, Customer> {
    customers
        .into_iter()
        .map(|customer| (customer.id, customer))
        .collect()
}

pub(super) fn procedures<S: Deref<Target = Store>>(
    store: &impl Fn() -> S,
    hub: &dyn Peer,
    theirs: &Standing,
    outcome: &mut Outcome,
) -> Result<(), SyncError> {
    let ours = store().procedures()?;
    if digest::of_procedures(ours.clone()) == theirs.procedures {
        return Ok(());
    }
    let there = calls::procedures(hub)?;
    for procedure in there.iter().filter(|there| !ours.contains(there)) {
        match take_in_procedure(&store(), procedure)? {
            None => outcome.beside += 1,
            refused => outcome.refused.extend(refused),
        }
    }
    for procedure in &ours {
        let same_name = there
            .iter()
            .any(|there| (&there.id, there.version) == (&procedure.id, procedure.version));
        // One that differs was told of above.
        if !same_name {
            match calls::push_procedure(hub, procedure)? {
                None => outcome.beside += 1,
                refused => outcome.refused.extend(refused),
            }
        }
    }
    Ok(())
}
