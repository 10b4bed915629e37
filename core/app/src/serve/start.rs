//! The first screen.

use swarfbook_store::Store;

use super::settings::{Place, device_settings};
use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::view::StartView;

/// Below this a phone may run full in the middle of a job: some 60 photos.
const LOW_BYTES: u64 = 300 * 1024 * 1024;

pub(super) fn start(app: &App) -> Result<Reply, Problem> {
    let store = app.store();
    let settings = device_settings(&store)?;
    let place: Place = store.setting("place")?.unwrap_or_default();
    let start = StartView {
        first_run: settings.is_none(),
        settings: settings.unwrap_or_default(),
        job: place.job,
        place: place.place,
        jobs: store.jobs("", 0, 0)?.total,
        demo: is_demo(&store)?,
        meters: crate::assess::reading::meter_grades(),
        is_hub: app.is_hub(),
        storage_warning: storage_warning(store.free_bytes()?),
    };
    Ok(Reply::Start { start })
}

/// The name of the setting that says so.
pub(crate) const DEMO: &str = "demo";

/// Whether the store was filled with the invented demo shop.
pub(crate) fn is_demo(store: &Store) -> Result<bool, Problem> {
    Ok(store.setting(DEMO)?.unwrap_or(false))
}

fn storage_warning(free: u64) -> Option<String> {
    (free < LOW_BYTES).then(|| {
        format!(
            "Only {} MB of storage are free. Make room before you take more photos; nothing written so far is lost.",
            free / (1024 * 1024)
        )
    })
}
