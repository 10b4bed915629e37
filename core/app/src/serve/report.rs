//! The report.

use swarfbook_job::id::JobId;

use crate::app::App;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;

pub(super) fn preview(_app: &App, _job: JobId) -> Result<Reply, Problem> {
    Err(Problem::new(ProblemKind::NotYet, "x", "y"))
}
pub(super) fn make(_app: &App, _job: JobId) -> Result<Reply, Problem> {
    Err(Problem::new(ProblemKind::NotYet, "x", "y"))
}
