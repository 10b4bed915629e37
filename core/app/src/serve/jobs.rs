//! The list of jobs.

use std::collections::BTreeMap;

use swarfbook_job::id::JobId;
use swarfbook_store::Store;
use swarfbook_words::{Language, in_language, say, speaking};

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
    let jobs = page.rows.iter().filter_map(|row| told(&row.line)).collect();
    Ok(Reply::Jobs {
        jobs,
        total: page.total,
    })
}

/// Makes the lines of jobs whose log has moved on.
pub(super) fn refresh(store: &mut Store) -> Result<(), Problem> {
    let mut lines = Vec::new();
    for job in store.stale_jobs()? {
        let mut told = BTreeMap::new();
        let mut found_by = String::new();
        // Who looks at the list may speak any of them.
        for language in Language::ALL {
            let (line, search) = in_language(language, || {
                super::load_alone(store, job)
                    .and_then(|loaded| crate::present::job_line(store, &loaded))
                    .unwrap_or_else(|why| (untold(job, &why), String::new()))
            });
            told.insert(language, line);
            if found_by.is_empty() {
                found_by = search;
            }
        }
        let text = serde_json::to_string(&told).unwrap_or_default();
        lines.push((job, text, found_by));
    }
    Ok(store.refresh(&lines)?)
}

/// A line as it was kept, in the language that is spoken. One that an earlier version kept
/// is in one language.
fn told(kept: &str) -> Option<JobLine> {
    serde_json::from_str::<BTreeMap<Language, JobLine>>(kept)
        .ok()
        .and_then(|mut lines| lines.remove(&speaking()))
        .or_else(|| serde_json::from_str(kept).ok())
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
