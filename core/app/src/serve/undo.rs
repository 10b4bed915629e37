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
                say!("There is nothing of yours to undo in this job."),
                say!("Lines of others can be undone in the log."),
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
            .ok_or_else(|| Problem::not_found(say!("That line is not in this job.")))?;
        if line.retracted_by.is_some() {
            return Err(Problem::new(
                ProblemKind::NotYet,
                say!("That line was already undone."),
                say!("Redo it in the log, if it should count again."),
            ));
        }
        if !retractable(line) {
            return Err(Problem::bad_input(
                say!(
                    "The line that opened the job, and what the customer answered, can't be undone."
                ),
                say!("Leave it as it is, or write a note."),
            ));
        }
        if let Some(reason) = &reason {
            crate::check::text(term!("The reason"), reason, crate::check::LONG)?;
        }
        super::append(app, store, job, vec![Fact::Retracted { entry, reason }])
    })?;
    super::reply_job(app, job)
}
