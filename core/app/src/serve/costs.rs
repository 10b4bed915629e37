//! What an amount can be given for.

use swarfbook_job::id::JobId;
use swarfbook_report::words::Words;
use swarfbook_words::speaking;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::report::asks;
use crate::state::{App, load};

pub(super) fn costs(app: &App, job: JobId) -> Result<Reply, Problem> {
    let words = Words::of(speaking().tag());
    let loaded = load(app, app.store(), job)?;
    Ok(Reply::Costs {
        costs: asks(&loaded, &words),
    })
}
