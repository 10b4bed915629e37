//! Reading a photo, and showing what was read.

use swarfbook_debris::{Settings, calibrated, census, census_by, unread};
use swarfbook_job::fact::{Fact, PhotoSubject};
use swarfbook_job::id::{EntryId, JobId};
use swarfbook_judge::record::takes;
use swarfbook_words::say;

use crate::problem::Problem;
use crate::reply::Reply;
use crate::state::App;
use crate::state::settings::is_demo;
use crate::state::{Loaded, load};

pub(super) fn take(app: &App, job: JobId, photo: EntryId) -> Result<Reply, Problem> {
    let (bytes, hints, kind, by) = {
        let store = app.store();
        let loaded = load(app, store, job)?;
        let state = find(&loaded, photo)?;
        let kind = state.subject.kind().ok_or_else(|| {
            Problem::bad_input(
                say!("there-is-nothing-to-count-in-this-photo"),
                say!("photos-of-the-patch-the-pan-and-the"),
            )
        })?;
        let by = super::calibration::in_force(app, store, photo)?;
        (store.photo(state.photo)?, state.hints.clone(), kind, by)
    };
    // Not while others wait to write: it takes a second.
    let settings = Settings { kind };
    let read = match app.finder() {
        Some(finder) => census_by(finder, &bytes, &hints, &settings),
        None => census(&bytes, &hints, &settings),
    };
    let census = match read {
        Ok(census) => match by {
            Some(by) if census.problem.is_none() => calibrated(census, &by),
            _ => census,
        },
        Err(why) => unread(kind, &why),
    };
    let made = vec![Fact::CensusMade { photo, census }];
    (app.store()).together(|store| super::append(app, store, job, made))?;
    show(app, job, photo)
}

pub(super) fn show(app: &App, job: JobId, photo: EntryId) -> Result<Reply, Problem> {
    let store = app.store();
    let loaded = load(app, store, job)?;
    let state = find(&loaded, photo)?;
    let mut shown = Box::new(crate::present::photo_census(&loaded.state, state));
    if state.subject == PhotoSubject::Patch && !is_demo(store)? {
        let known = !takes(&loaded.state).is_empty() || super::record::repeats_known(store)?;
        shown.repeat_offer = (!known).then(crate::present::repeat_offer);
    }
    Ok(Reply::Photo {
        photo: shown,
        job: Box::new(crate::present::job(store, &loaded)?),
    })
}

fn find(loaded: &Loaded, photo: EntryId) -> Result<&swarfbook_job::fold::PhotoState, Problem> {
    loaded
        .state
        .photo(photo)
        .ok_or_else(|| Problem::not_found(say!("that-photo-is-not-in-this-job")))
}
