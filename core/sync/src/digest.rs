//! Whether two stores hold the same customers or procedures, without sending them.

use serde::Serialize;
use swarfbook_job::id::Sha256Hex;
use swarfbook_store::{Customer, ProcedureText};

/// Digest of customers in any order.
pub(crate) fn of_customers(mut customers: Vec<Customer>) -> Sha256Hex {
    customers.sort_by_key(|customer| customer.id);
    of(&customers)
}

/// Digest of procedures in any order.
pub(crate) fn of_procedures(mut procedures: Vec<ProcedureText>) -> Sha256Hex {
    procedures.sort_by(|a, b| (&a.id, a.version).cmp(&(&b.id, b.version)));
    of(&procedures)
}

fn of(value: &impl Serialize) -> Sha256Hex {
    // Plain structs of strings and numbers: writing them can't fail. If it
    // did, both would seem different and be exchanged, which is safe.
    serde_json::to_vec(value).map_or(Sha256Hex::ZERO, |bytes| Sha256Hex::of(&bytes))
}
