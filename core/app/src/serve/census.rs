//! Reading a photo, and showing what was read.

use swarfbook_debris::{Settings, census, unread};
use swarfbook_job::fact::Fact;
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_words::say;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::{Loaded, load};

pub(super) fn take(app: &App, job: JobId, photo: EntryId) -> Result<Reply, Problem> {
    let (bytes, hints, kind) = {
        let store = app.store();
        let loaded = load(app, &store, job)?;
        let state = find(&loaded, photo)?;
        let kind = state.subject.kind().ok_or_else(|| {
            Problem::bad_input(
                say!("There is nothing to count in this photo."),
                say!("Photos of the patch, the pan and the magnets are counted."),
            )
        })?;
        (store.photo(state.photo)?, state.hints.clone(), kind)
    };
    // Not under the store's lock: it takes a second, and others must not wait.
    let settings = Settings { kind };
    let census = match census(&bytes, &hints, &settings) {
        Ok(census) => census,
        Err(why) => unread(kind, &why),
    };
    super::append(
        app,
        &mut app.store(),
        job,
        vec![Fact::CensusMade { photo, census }],
    )?;
    show(app, job, photo)
}

pub(super) fn show(app: &App, job: JobId, photo: EntryId) -> Result<Reply, Problem> {
    let store = app.store();
    let loaded = load(app, &store, job)?;
    let state = find(&loaded, photo)?;
    Ok(Reply::Photo {
        photo: Box::new(crate::present::photo_census(&loaded.state, state)),
        job: Box::new(crate::present::job(&store, &loaded)?),
    })
}

fn find(loaded: &Loaded, photo: EntryId) -> Result<&swarfbook_job::fold::PhotoState, Problem> {
    loaded
        .state
        .photo(photo)
        .ok_or_else(|| Problem::not_found(say!("That photo is not in this job.")))
}
