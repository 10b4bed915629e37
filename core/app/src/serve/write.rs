//! Writing one line: checked against the job as it stands, then on disk.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::JobId;

use super::settings::device_settings;
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
        let mut facts = Vec::with_capacity(2);
        facts.extend(signature(&store, &loaded.state)?);
        facts.push(fact);
        super::settle::append(app, &mut store, &loaded, job, facts)?
    };
    Ok(Reply::Written {
        entry,
        job: super::job_view(app, job)?,
    })
}

/// Says who writes on this device, when the job does not know it yet.
fn signature(
    store: &swarfbook_store::Store,
    state: &swarfbook_job::fold::JobState,
) -> Result<Option<Fact>, Problem> {
    let name = device_settings(store)?.unwrap_or_default().technician;
    let known = state.people.get(&store.device());
    Ok((!name.is_empty() && known != Some(&name)).then_some(Fact::WrittenBy { name }))
}
