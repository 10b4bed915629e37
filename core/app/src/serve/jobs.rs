//! The list of jobs.

use swarfbook_job::id::JobId;
use swarfbook_store::Store;
use swarfbook_words::say;

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
        let (line, search) = super::load_alone(store, job)
            .and_then(|loaded| crate::present::job_line(store, &loaded))
            .unwrap_or_else(|why| (untold(job, &why), String::new()));
        let text = serde_json::to_string(&line).unwrap_or_default();
        lines.push((job, text, search));
    }
    Ok(store.refresh(&lines)?)
}

/// One job that can't be told must not keep the others out of sight.
fn untold(job: JobId, why: &Problem) -> JobLine {
    JobLine {
        id: job,
        title: say!("A job that can't be shown"),
        subtitle: why.to_string(),
        stage: String::new(),
        stages_done: 0,
        stages: 0,
        touched: String::new(),
        demo: false,
    }
}
