//! A tightening as it is planned in tests.

#![allow(clippy::panic)] // in helpers of tests, too

use swarfbook_app::App;
use swarfbook_app::command::{Command, TighteningAsked};
use swarfbook_app::problem::Problem;
use swarfbook_app::reply::Reply;
use swarfbook_app::view::TighteningView;
use swarfbook_job::id::JobId;

/// Eight pan bolts at 10 N·m in three rounds, as `change` has it.
pub fn tightening(
    app: &App,
    job: JobId,
    change: impl Fn(&mut TighteningAsked),
) -> Result<TighteningView, Problem> {
    let mut asked = TighteningAsked {
        what: "pan bolts".into(),
        torque: "10".into(),
        rounds: 3,
        sealant: false,
        bolts: Some(8),
        adapter: None,
        tool: None,
        angle: String::new(),
        sure: false,
    };
    change(&mut asked);
    match app.call(Command::PlanTightening { job, asked })? {
        Reply::Tightening { plan } => Ok(*plan),
        other => panic!("{other:?}"),
    }
}
