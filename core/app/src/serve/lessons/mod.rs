//! What technicians confirmed and corrected, as a file that can be handed on: `README.txt` beside this has its form.
//! Worked out from the log and the photos each time; nothing of it is kept here.

mod lesson;
mod pack;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use swarfbook_debris::fit::Judges;
use swarfbook_job::fold::{JobState, PhotoState};
use swarfbook_job::id::Sha256Hex;
use swarfbook_store::{StoreError, private_file};
use swarfbook_words::say;

use super::jobs;
use crate::problem::{Problem, ProblemKind};
use crate::state::App;
use crate::state::settings::is_demo;
use pack::Pack;

/// What a pack holds.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Lessons {
    /// Pieces with what a technician says that they are.
    pub lessons: u64,
    /// Photos that they are of.
    pub photos: u64,
    /// Photos with something to learn from that are not on this device, or can't be read.
    pub photos_missing: u64,
}

pub(crate) fn export(app: &App, to: &Path) -> Result<Lessons, Problem> {
    let half = half_written(to);
    let written = write(app, &half).and_then(|lessons| {
        fs::rename(&half, to).map_err(|error| cannot(to, error))?;
        Ok(lessons)
    });
    if written.is_err() {
        // What could not be written whole must not pass for a pack.
        let _ = fs::remove_file(&half);
    }
    written
}

fn write(app: &App, half: &Path) -> Result<Lessons, Problem> {
    let taught = taught(app)?;
    let judges = Judges::built_in().map_err(|_| {
        Problem::new(
            ProblemKind::NotYet,
            say!("the-model-that-finds-pieces-is-damaged-or"),
            say!("install-the-program-again"),
        )
    })?;
    let file = private_file(half).map_err(|error| cannot(half, error))?;
    let mut pack = Pack::new(file).map_err(|error| cannot(half, error))?;
    let mut done = Lessons::default();
    for (state, photo) in &taught {
        // Not under the store's lock: reading a photo takes a second.
        let bytes = app.store().photo(photo.photo);
        let upright = bytes
            .ok()
            .and_then(|bytes| swarfbook_debris::decode(&bytes).ok());
        let Some(upright) = upright else {
            done.photos_missing += 1;
            continue;
        };
        done.photos += 1;
        for lesson in lesson::lessons(state, photo, &upright, &judges) {
            done.lessons += 1;
            pack.add(done.photos, &lesson, &upright)
                .map_err(|error| cannot(half, error))?;
        }
    }
    pack.end().map_err(|error| cannot(half, error))?;
    Ok(done)
}

/// The photos that teach something, each once whatever jobs name it.
fn taught(app: &App) -> Result<Vec<(Arc<JobState>, PhotoState)>, Problem> {
    let store = app.store();
    if is_demo(store)? {
        return Err(Problem::bad_input(
            say!("the-jobs-of-the-demo-are-invented-there"),
            say!("export-the-lessons-of-your-own-store"),
        ));
    }
    jobs::refresh(app, store)?;
    let mut taught: BTreeMap<Sha256Hex, (Arc<JobState>, PhotoState)> = BTreeMap::new();
    for row in store.jobs("", 0, u32::MAX)?.rows {
        let state = app.jobs().glanced(store, row.job)?.state.clone();
        let photos: Vec<PhotoState> = state
            .photos
            .iter()
            .filter(|photo| photo.confirmed.is_some() || !photo.corrections.is_empty())
            .filter(|photo| photo.census.as_ref().is_some_and(|c| c.problem.is_none()))
            .cloned()
            .collect();
        for photo in photos {
            taught
                .entry(photo.photo)
                .or_insert_with(|| (state.clone(), photo));
        }
    }
    // In the order of their hashes, which says nothing of when they were taken.
    Ok(taught.into_values().collect())
}

fn half_written(to: &Path) -> PathBuf {
    let mut name = to.as_os_str().to_owned();
    name.push(".half");
    PathBuf::from(name)
}

fn cannot(path: &Path, source: std::io::Error) -> Problem {
    if source.kind() == std::io::ErrorKind::StorageFull {
        return StoreError::Full.into();
    }
    StoreError::File {
        what: say!("path-cant-be-written", path = path.display()),
        source,
    }
    .into()
}
