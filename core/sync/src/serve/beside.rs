//! What lives beside the log: customers and procedures.

use swarfbook_job::id::CustomerId;
use swarfbook_job::procedure;
use swarfbook_store::{Customer, ProcedureText, Store, StoreError};
use swarfbook_words::say;

use super::{bad, or_words};
use crate::message::{Refused, Response, from_json, from_query};

/// Customers in one answer or request.
pub(crate) const CUSTOMERS_AT_ONCE: usize = 2_000;

/// Letters in a name or a contact that are believed.
const MAX_LETTERS: usize = 2_000;

pub(super) fn give_customers(store: &Store, target: &str) -> Response {
    let after: Option<CustomerId> = from_query(target, "after");
    or_words(store.customers().map(|mut customers| {
        customers.retain(|customer| after.is_none_or(|after| customer.id > after));
        customers.sort_by_key(|customer| customer.id);
        customers.truncate(CUSTOMERS_AT_ONCE);
        Response::json(&customers)
    }))
}

pub(super) fn take_customers(store: &Store, body: &[u8], now_millis: u64) -> Response {
    match from_json::<Vec<Customer>>(body) {
        Ok(customers) => {
            or_words(take_in(store, customers, now_millis).map(|refused| Response::json(&refused)))
        }
        Err(_) => bad("customers"),
    }
}

/// Takes in customers that can be and need not wait; tells of the others.
pub(crate) fn take_in(
    store: &Store,
    customers: Vec<Customer>,
    now_millis: u64,
) -> Result<Vec<Refused>, StoreError> {
    let (good, bad): (Vec<_>, Vec<_>) = customers.into_iter().partition(believable);
    let mut refused: Vec<Refused> = bad
        .iter()
        .map(|customer| Refused {
            device: Some(customer.device),
            words: format!("Customer {} can't be as it was sent.", customer.id),
        })
        .collect();
    // A merge marks every job as touched, so none for nothing.
    if !good.is_empty() {
        let wait = store.merge_customers(&good, now_millis)?;
        let waits = good.iter().filter(|customer| wait.contains(&customer.id));
        refused.extend(waits.map(|customer| Refused {
            device: Some(customer.device),
            words: say!(
                "customer-customer-was-changed-by-a-device",
                customer = customer.id
            ),
        }));
    }
    Ok(refused)
}

fn believable(customer: &Customer) -> bool {
    let short = |text: &str| text.chars().count() <= MAX_LETTERS;
    let empty = customer.name.is_empty() && customer.contact.is_empty();
    short(&customer.name)
        && short(&customer.contact)
        // Erased means erased: nothing may come back under that flag.
        && (!customer.erased || empty)
        && i64::try_from(customer.hlc.millis).is_ok()
}

pub(super) fn give_procedures(store: &Store) -> Response {
    or_words(store.procedures().map(|all| Response::json(&all)))
}

pub(super) fn take_procedure(store: &Store, body: &[u8]) -> Response {
    match from_json::<ProcedureText>(body) {
        Ok(procedure) => {
            or_words(take_in_procedure(store, &procedure).map(|refused| Response::json(&refused)))
        }
        Err(_) => bad("a procedure"),
    }
}

/// Takes in a procedure, unless it is not one or another stands in its place.
pub(crate) fn take_in_procedure(
    store: &Store,
    theirs: &ProcedureText,
) -> Result<Option<Refused>, StoreError> {
    let refused = |words: String| {
        Ok(Some(Refused {
            device: None,
            words,
        }))
    };
    let (id, version) = (&theirs.id, theirs.version);
    match procedure::load(&theirs.text) {
        Err(error) => {
            return refused(say!(
                "procedure-id-version-version-cant-be-used-here",
                id = id,
                version = version,
                error = error
            ));
        }
        Ok(read) if (read.id.as_str(), read.version) != (theirs.id.as_str(), theirs.version) => {
            return refused(say!(
                "procedure-id-version-version-is-called-otherwise-in",
                id = id,
                version = version
            ));
        }
        Ok(_) => {}
    }
    // Two may come at once under one version.
    store.together_for_this_run(|store| {
        let here = store
            .procedures()?
            .into_iter()
            .find(|ours| (&ours.id, ours.version) == (&theirs.id, theirs.version));
        match here {
            Some(ours) if ours.text == theirs.text => Ok(None),
            Some(_) => refused(say!(
                "procedure-id-version-version-differs-here-and-there",
                id = id,
                version = version
            )),
            None => store.add_procedure(theirs).map(|()| None),
        }
    })
}
