//! Writing one line: checked against the job as it stands, then on disk.

use swarfbook_job::fact::{Fact, PhotoSubject, Reading};
use swarfbook_job::id::{EntryId, JobId, Sha256Hex};
use swarfbook_store::Store;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::last::keep_choices;
use crate::state::load;

pub(super) fn write(app: &App, job: JobId, fact: Fact, sure: bool) -> Result<Reply, Problem> {
    let entry = app
        .store()
        .together(|store| checked(app, store, job, fact, sure))?;
    written(app, job, entry)
}

/// A reading off a display, and the photo that shows it.
pub(super) struct Displayed {
    pub step: String,
    pub photo: Sha256Hex,
    pub component: EntryId,
    pub reading: Reading,
}

/// The photo's line comes first, since the reading names it; where the reading is refused, both
/// are not written.
pub(super) fn displayed(
    app: &App,
    job: JobId,
    taken: Displayed,
    sure: bool,
) -> Result<Reply, Problem> {
    let Displayed {
        step,
        photo,
        component,
        mut reading,
    } = taken;
    let entry = app.store().together(|store| {
        let photo = Fact::PhotoTaken {
            step,
            photo,
            subject: PhotoSubject::Display,
        };
        reading.display = Some(checked(app, store, job, photo, sure)?);
        let fact = Fact::ReadingTaken { component, reading };
        checked(app, store, job, fact, sure)
    })?;
    written(app, job, entry)
}

fn checked(
    app: &App,
    store: &Store,
    job: JobId,
    fact: Fact,
    sure: bool,
) -> Result<EntryId, Problem> {
    let loaded = load(app, store, job)?;
    crate::check::fact(app, store, &loaded, &fact, sure)?;
    keep_choices(store, &loaded.state, &fact)?;
    super::settle::append(app, store, &loaded, job, fact)
}

fn written(app: &App, job: JobId, entry: EntryId) -> Result<Reply, Problem> {
    Ok(Reply::Written {
        entry,
        job: super::job_view(app, job)?,
    })
}
