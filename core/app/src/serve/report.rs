//! The report: as it would be now, or made and noted in the log.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{JobId, Sha256Hex};
use swarfbook_report::Content;

use super::settings::device_settings;
use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::report::{Making, content, unmade};

pub(super) fn preview(app: &App, job: JobId) -> Result<Reply, Problem> {
    let html = html(app, job)?;
    Ok(reply(html))
}

pub(super) fn make(app: &App, job: JobId) -> Result<Reply, Problem> {
    let html = html(app, job)?;
    let mut store = app.store();
    let (_, head) = store.head(store.device())?;
    let sha256 = Sha256Hex::of(html.as_bytes());
    let before = super::load(&store, job)?;
    let made = vec![Fact::ReportMade { sha256, head }];
    if let Some(entry) = super::append(app, &mut store, job, made)? {
        super::settle::settle(app, &mut store, &before, job, entry)?;
    }
    Ok(reply(html))
}

fn html(app: &App, job: JobId) -> Result<String, Problem> {
    made(app, job).map(|(html, _)| html)
}

/// The report as it would be now, and what it says.
pub(super) fn made(app: &App, job: JobId) -> Result<(String, Content), Problem> {
    let (content, photos) = {
        let store = app.store();
        let loaded = super::load(&store, job)?;
        content(&Making {
            store: &store,
            loaded: &loaded,
            shop: device_settings(&store)?.unwrap_or_default().shop,
            now: app.clock().now(),
        })?
    };
    let html = swarfbook_report::render(&content, &photos).map_err(unmade)?;
    Ok((html, content))
}

fn reply(html: String) -> Reply {
    Reply::Report {
        sha256: Sha256Hex::of(html.as_bytes()).to_string(),
        html,
    }
}
