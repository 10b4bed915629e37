//! The electrical parts of a gearbox with the maker's limits, entered once and offered by name at
//! the next job of such a gearbox. They are the shop's: every browser of a hub has the same.

use swarfbook_job::fold::ComponentState;
use swarfbook_job::id::JobId;
use swarfbook_words::{say, term};

use crate::check::SHORT;
use crate::problem::{Problem, ProblemKind};
use crate::reply::Reply;
use crate::state::{App, load};
use crate::view::{PartNoted, PartSet};

/// The name that they are kept under.
const PART_SETS: &str = "part_sets";

/// More kinds of gearbox than a shop writes down.
const MOST: usize = 200;

pub(super) fn list(app: &App) -> Result<Reply, Problem> {
    let sets = app.store().setting(PART_SETS)?.unwrap_or_default();
    Ok(Reply::PartSets { sets })
}

/// Keeps the parts of a job under a name; those that had it before are replaced.
pub(super) fn save(app: &App, job: JobId, name: &str) -> Result<Reply, Problem> {
    let name = name.trim();
    crate::check::wanted_text(term!("the-name-of-the-gearbox"), name, SHORT)?;
    app.store().together(|store| {
        let loaded = load(app, store, job)?;
        let parts: Vec<PartNoted> = loaded.state.components.iter().map(noted).collect();
        if parts.is_empty() {
            return Err(Problem::new(
                ProblemKind::BadRequest,
                say!("no-electrical-part-is-named-in-this-job"),
                say!("name-the-parts-first"),
            ));
        }
        let mut sets: Vec<PartSet> = store.setting(PART_SETS)?.unwrap_or_default();
        sets.retain(|set| !same(&set.name, name));
        if sets.len() >= MOST {
            return Err(Problem::bad_input(
                say!("there-are-sets-sets-of-parts-already", sets = sets.len()),
                say!("forget-one-that-is-not-needed-any-more"),
            ));
        }
        sets.push(PartSet {
            name: name.to_owned(),
            parts,
        });
        sets.sort_by(|a, b| a.name.cmp(&b.name));
        Ok(store.set(PART_SETS, &sets)?)
    })?;
    list(app)
}

/// Forgets a set; jobs that took it keep their parts.
pub(super) fn forget(app: &App, name: &str) -> Result<Reply, Problem> {
    app.store().together(|store| {
        let mut sets: Vec<PartSet> = store.setting(PART_SETS)?.unwrap_or_default();
        sets.retain(|set| !same(&set.name, name));
        store.set(PART_SETS, &sets)
    })?;
    list(app)
}

fn same(a: &str, b: &str) -> bool {
    a.trim().to_lowercase() == b.trim().to_lowercase()
}

fn noted(part: &ComponentState) -> PartNoted {
    PartNoted {
        component: part.component.clone(),
        specs: part.specs.values().cloned().collect(),
    }
}
