//! A new job.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;
use uuid::Uuid;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::{App, procedures};

pub(super) fn open(app: &App, procedure: Option<String>) -> Result<Reply, Problem> {
    let job = JobId(Uuid::new_v4());
    app.store().together(|store| {
        let procedure = procedures::newest(store, procedure.as_deref())?;
        let opened = Fact::Opened {
            procedure: procedure.id,
            procedure_version: procedure.version,
        };
        super::append(app, store, job, vec![opened])?;
        // Who opened it, right behind.
        super::append(app, store, job, Vec::new())
    })?;
    super::reply_job(app, job)
}
