//! The list of jobs.

use std::time::{Duration, Instant};

use swarfbook_job::id::JobId;
use swarfbook_judge::record::JobRecord;
use swarfbook_store::Store;
use swarfbook_words::{Language, in_language, say};

use crate::present::{self, JobFacts};
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::state::App;
use crate::state::load_alone;
use crate::state::settings::is_demo;
use crate::view::JobLine;

/// The most that one page may hold.
const MAX_PAGE: u32 = 200;
/// How long others who write wait for rows that are made; each commit takes some milliseconds.
const AT_ONCE: Duration = Duration::from_millis(50);

pub(super) fn jobs(app: &App, search: &str, skip: u32, limit: u32) -> Result<Reply, Problem> {
    let store = app.store();
    match refresh(app, store) {
        Ok(()) => {}
        // On a full disk the rows are shown as they were made last.
        Err(why) if why.kind == ProblemKind::Storage && !why.damaged => {}
        Err(why) => return Err(why),
    }
    store.at_one_moment(|store| {
        let page = store.jobs(search, skip, limit.min(MAX_PAGE))?;
        let demo = is_demo(store)?;
        let jobs = page.rows.iter().map(|row| {
            told(app, store, row.job, &row.row, demo).unwrap_or_else(|why| untold(row.job, &why))
        });
        Ok(Reply::Jobs {
            jobs: jobs.collect(),
            total: page.total,
        })
    })
}

/// What a row adds to the record of the counts; `None` in one of an earlier version, or of a job that can't be told.
pub(super) fn record(row: &str) -> Option<JobRecord> {
    let facts: Option<JobFacts> = serde_json::from_str(row).unwrap_or_default();
    facts?.record
}

/// Makes the rows of jobs whose log has moved on.
pub(super) fn refresh(app: &App, store: &Store) -> Result<(), Problem> {
    let mut all_made = store.stale_jobs()?.is_empty();
    while !all_made {
        all_made = store.together_for_this_run(|store| -> Result<bool, Problem> {
            // Asked once more: somebody else may have made them while this one waited.
            let mut stale = store.stale_jobs()?.into_iter().peekable();
            make_some(app, store, &mut stale)?;
            Ok(stale.peek().is_none())
        })?;
    }
    Ok(())
}

/// Makes the rows of these jobs.
pub(super) fn make(app: &App, store: &Store, jobs: Vec<JobId>) -> Result<(), Problem> {
    let mut jobs = jobs.into_iter().peekable();
    while jobs.peek().is_some() {
        store.together_for_this_run(|store| make_some(app, store, &mut jobs))?;
    }
    Ok(())
}

/// Makes as many rows as others who write may wait for, each from the job as it stands when the
/// row is kept: a line or a name that comes in between would be lost from the list.
fn make_some(
    app: &App,
    store: &Store,
    jobs: &mut impl Iterator<Item = JobId>,
) -> Result<(), Problem> {
    let begun = Instant::now();
    for job in jobs {
        // One job that can't be told must not keep the others out of sight.
        let (facts, found_by) = match row(app, store, job) {
            Ok((facts, found_by)) => (Some(facts), found_by),
            Err(_) => (None, String::new()),
        };
        let text = serde_json::to_string(&facts).unwrap_or_default();
        store.refresh(&[(job, text, found_by)])?;
        if begun.elapsed() > AT_ONCE {
            break;
        }
    }
    Ok(())
}

fn row(app: &App, store: &Store, job: JobId) -> Result<(JobFacts, String), Problem> {
    let loaded = load_alone(app, store, job)?;
    let customer = match loaded.state.customer {
        Some(id) => store.customer(id)?.map(|c| c.name).unwrap_or_default(),
        None => String::new(),
    };
    // What stands for a car without a name is found in one language, whoever looks.
    let words = || present::found_by(&loaded.state, &customer);
    let found_by = in_language(Language::ALL[0], words);
    Ok((present::job_facts(&loaded), found_by))
}

/// A row as it is shown; one of a job that could not be told is tried again.
fn told(app: &App, store: &Store, job: JobId, kept: &str, demo: bool) -> Result<JobLine, Problem> {
    let kept: Option<JobFacts> = serde_json::from_str(kept).unwrap_or_default();
    let facts = match kept {
        Some(facts) => facts,
        None => present::job_facts(&load_alone(app, store, job)?),
    };
    let procedure = app.jobs().procedure(store, facts.procedure.as_ref())?;
    Ok(present::job_line(job, facts, &procedure, demo))
}

fn untold(job: JobId, why: &Problem) -> JobLine {
    JobLine {
        id: job,
        title: say!("a-job-that-cant-be-shown"),
        subtitle: why.to_string(),
        stage: String::new(),
        stages_done: 0,
        stages: 0,
        touched: String::new(),
        demo: false,
    }
}
