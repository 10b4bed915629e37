//! A new job.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;
use uuid::Uuid;

use super::settings::device_settings;
use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;

pub(super) fn open(app: &App, procedure: Option<String>) -> Result<Reply, Problem> {
    let job = JobId(Uuid::new_v4());
    {
        let mut store = app.store();
        let procedure = super::procedures::newest(&store, procedure.as_deref())?;
        let mut facts = vec![Fact::Opened {
            procedure: procedure.id,
            procedure_version: procedure.version,
        }];
        let name = device_settings(&store)?.unwrap_or_default().technician;
        if !name.is_empty() {
            facts.push(Fact::WrittenBy { name });
        }
        super::append(app, &mut store, job, facts)?;
    }
    super::reply_job(app, job)
}
