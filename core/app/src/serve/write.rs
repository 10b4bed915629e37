//! Writing one line: checked against the job as it stands, then on disk.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::load;

pub(super) fn write(app: &App, job: JobId, fact: Fact, sure: bool) -> Result<Reply, Problem> {
    let entry = app.store().together(|store| {
        let loaded = load(app, store, job)?;
        crate::check::fact(app, store, &loaded, &fact, sure)?;
        super::settle::append(app, store, &loaded, job, fact)
    })?;
    Ok(Reply::Written {
        entry,
        job: super::job_view(app, job)?,
    })
}
