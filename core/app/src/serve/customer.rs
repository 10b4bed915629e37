//! Customers, beside the log.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{CustomerId, JobId};
use swarfbook_words::{say, term};
use uuid::Uuid;

use crate::check;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::load;

pub(super) fn save(app: &App, job: JobId, name: &str, contact: &str) -> Result<Reply, Problem> {
    check::text(term!("the-customers-name"), name, check::SHORT)?;
    check::text(term!("the-contact"), contact, check::SHORT)?;
    if name.trim().is_empty() {
        return Err(Problem::bad_input(
            say!("the-customer-has-no-name"),
            say!("type-a-name-or-leave-the-customer-out"),
        ));
    }
    app.store().together(|store| {
        let loaded = load(app, store, job)?;
        let now = app.clock().now();
        let linked = loaded.state.customer;
        // Someone erased is another person from then on: a new record.
        let kept = match linked {
            Some(id) => store.customer(id)?.filter(|c| !c.erased).map(|c| c.id),
            None => None,
        };
        let id = kept.unwrap_or_else(|| CustomerId(Uuid::new_v4()));
        store.save_customer(id, name.trim(), contact.trim(), now)?;
        if kept.is_none() {
            super::append(app, store, job, vec![Fact::CustomerLinked { customer: id }])?;
        }
        Ok::<_, Problem>(())
    })?;
    super::reply_job(app, job)
}

pub(super) fn erase(app: &App, customer: CustomerId) -> Result<Reply, Problem> {
    let store = app.store();
    if store.customer(customer)?.is_none() {
        return Err(Problem::not_found(say!("there-is-no-such-customer")));
    }
    store.erase_customer(customer, app.clock().now())?;
    Ok(Reply::Done {})
}
