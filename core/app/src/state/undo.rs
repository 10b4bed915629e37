//! What who asks may take back.

use swarfbook_job::fold::LineState;
use swarfbook_judge::undo::last_undoable;
use swarfbook_store::Store;

use super::load::Loaded;
use super::settings::device_settings;
use crate::caller::caller;
use crate::problem::Problem;

/// The line that undo takes back for who asks.
///
/// # Errors
/// As the store's.
pub(crate) fn undoable<'a>(
    store: &Store,
    loaded: &'a Loaded,
) -> Result<Option<&'a LineState>, Problem> {
    // Several browsers write as one hub: each takes back its own.
    let name = match caller() {
        Some(_) => Some(device_settings(store)?.unwrap_or_default().technician),
        None => None,
    };
    Ok(last_undoable(
        &loaded.state,
        store.device(),
        name.as_deref(),
    ))
}
