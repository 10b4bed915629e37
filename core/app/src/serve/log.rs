//! The whole log of a job in words.

use swarfbook_job::id::JobId;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::load;

pub(super) fn log(app: &App, job: JobId) -> Result<Reply, Problem> {
    let loaded = load(app, app.store(), job)?;
    Ok(Reply::Log {
        lines: crate::present::lines(&loaded),
    })
}
