//! Exchange with the hub.

use crate::app::App;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::view::SyncView;

pub(super) fn pair(_app: &App, _address: &str, _code: &str) -> Result<Reply, Problem> {
    Err(Problem::new(
        ProblemKind::Hub,
        "This version can't pair.",
        "Update the app.",
    ))
}

pub(super) fn now(app: &App) -> Result<Reply, Problem> {
    state(app)
}

pub(super) fn state(_app: &App) -> Result<Reply, Problem> {
    Ok(Reply::Sync {
        sync: SyncView::default(),
    })
}
