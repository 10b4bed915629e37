//! Taking back. Nothing is deleted: a retraction is a line too.

use swarfbook_job::fact::Fact;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_judge::undo::retractable;
use swarfbook_words::{say, term};

use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::state::App;
use crate::state::{load, undoable};

pub(super) fn undo(app: &App, job: JobId) -> Result<Reply, Problem> {
    app.store().together(|store| {
        let loaded = load(app, store, job)?;
        let line = undoable(store, &loaded)?.ok_or_else(|| {
            Problem::new(
                ProblemKind::NotYet,
                say!("there-is-nothing-of-yours-to-undo-in"),
                say!("lines-of-others-can-be-undone-in-the"),
            )
        })?;
        let fact = Fact::Retracted {
            entry: line.stamp.entry,
            reason: None,
        };
        super::append(app, store, job, vec![fact])
    })?;
    super::reply_job(app, job)
}

pub(super) fn retract(
    app: &App,
    job: JobId,
    entry: EntryId,
    reason: Option<String>,
) -> Result<Reply, Problem> {
    app.store().together(|store| {
        let loaded = load(app, store, job)?;
        let line = loaded
            .state
            .lines
            .iter()
            .find(|line| line.stamp.entry == entry)
            .ok_or_else(|| Problem::not_found(say!("that-line-is-not-in-this-job")))?;
        if line.retracted_by.is_some() {
            return Err(Problem::new(
                ProblemKind::NotYet,
                say!("that-line-was-already-undone"),
                say!("redo-it-in-the-log-if-it-should"),
            ));
        }
        if !retractable(line) {
            return Err(Problem::bad_input(
                say!("the-line-that-opened-the-job-and-what"),
                say!("leave-it-as-it-is-or-write-a"),
            ));
        }
        if let Some(reason) = &reason {
            crate::check::text(term!("the-reason"), reason, crate::check::LONG)?;
        }
        super::append(app, store, job, vec![Fact::Retracted { entry, reason }])
    })?;
    super::reply_job(app, job)
}
