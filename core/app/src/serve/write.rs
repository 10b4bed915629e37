//! Writing one line: checked against the job as it stands, then on disk.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;

use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;

pub(super) fn write(app: &App, job: JobId, fact: Fact, sure: bool) -> Result<Reply, Problem> {
    let entry = {
        let mut store = app.store();
        let loaded = super::load(&store, job)?;
        if matches!(fact, Fact::CarNoted { .. }) {
            // The check looks for earlier visits by the list's search words.
            super::jobs::refresh(&mut store)?;
        }
        crate::check::fact(&store, &loaded, &fact, sure)?;
        super::settle::append(app, &mut store, &loaded, job, fact)?
    };
    Ok(Reply::Written {
        entry,
        job: super::job_view(app, job)?,
    })
}
