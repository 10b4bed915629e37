//! Taking back. Nothing is deleted: a retraction is a line too.

use swarfbook_job::fact::Fact;
use swarfbook_job::fold::{JobState, LineState};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use super::settings::device_settings;
use crate::app::App;
use crate::caller::caller;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::state::load;

pub(super) fn undo(app: &App, job: JobId) -> Result<Reply, Problem> {
    {
        let mut store = app.store();
        let loaded = load(app, &store, job)?;
        let line = last_undoable(&store, &loaded.state)?.ok_or_else(|| {
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
        super::append(app, &mut store, job, vec![fact])?;
    }
    super::reply_job(app, job)
}

pub(super) fn retract(
    app: &App,
    job: JobId,
    entry: EntryId,
    reason: Option<String>,
) -> Result<Reply, Problem> {
    {
        let mut store = app.store();
        let loaded = load(app, &store, job)?;
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
        super::append(
            app,
            &mut store,
            job,
            vec![Fact::Retracted { entry, reason }],
        )?;
    }
    super::reply_job(app, job)
}

/// The line that undo takes back: the last that counts, written on this device by who asks,
/// that is not itself a taking back, and that a person wrote. A tick that came by itself
/// goes with the line that brought it.
pub(crate) fn last_undoable<'a>(
    store: &Store,
    state: &'a JobState,
) -> Result<Option<&'a LineState>, Problem> {
    let device = store.device();
    // Several browsers write as one hub: each takes back its own.
    let name = match caller() {
        Some(_) => Some(device_settings(store)?.unwrap_or_default().technician),
        None => None,
    };
    let last = state.lines.iter().rev().find(|line| {
        line.stamp.device == device
            && name
                .as_ref()
                .is_none_or(|name| *name == line.stamp.hand.name)
            && line.retracted_by.is_none()
            && retractable(line)
            && !matches!(
                line.fact,
                Some(Fact::Retracted { .. } | Fact::CensusMade { .. })
            )
    });
    Ok(match last.map(|line| &line.fact) {
        Some(Some(Fact::StepSettled { by, .. })) => {
            state.lines.iter().find(|line| line.stamp.entry == *by)
        }
        _ => last,
    })
}

fn retractable(line: &LineState) -> bool {
    !matches!(
        line.fact,
        // What the customer said is theirs to change, by answering again. Who wrote, and in
        // which units, is a part of every line behind it.
        Some(
            Fact::Opened { .. }
                | Fact::CustomerAnswered { .. }
                | Fact::WrittenBy { .. }
                | Fact::WrittenIn { .. }
        )
    )
}
