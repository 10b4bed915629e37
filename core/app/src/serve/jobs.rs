//! The list of jobs.

use swarfbook_store::Store;

use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::view::JobLine;

/// The most that one page may hold.
const MAX_PAGE: u32 = 200;

pub(super) fn jobs(app: &App, search: &str, skip: u32, limit: u32) -> Result<Reply, Problem> {
    let mut store = app.store();
    refresh(&mut store)?;
    let page = store.jobs(search, skip, limit.min(MAX_PAGE))?;
    let jobs = page
        .rows
        .iter()
        .filter_map(|row| serde_json::from_str::<JobLine>(&row.line).ok())
        .collect();
    Ok(Reply::Jobs {
        jobs,
        total: page.total,
    })
}

/// Makes the lines of jobs whose log has moved on.
pub(super) fn refresh(store: &mut Store) -> Result<(), Problem> {
    let mut lines = Vec::new();
    for job in store.stale_jobs()? {
        let loaded = super::load(store, job)?;
        let (line, search) = crate::present::job_line(store, &loaded)?;
        let text = serde_json::to_string(&line).unwrap_or_default();
        lines.push((job, text, search));
    }
    Ok(store.refresh(&lines)?)
}
