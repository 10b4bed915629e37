//! The calibration of class probabilities that is in force: worked out from the log when a count is made, and kept
//! with that count.

use swarfbook_debris::calibration;
use swarfbook_job::census::Calibration;
use swarfbook_job::id::EntryId;
use swarfbook_store::Store;

use swarfbook_judge::record::known;

use super::jobs;
use crate::problem::Problem;
use crate::state::App;
use crate::state::settings::{device_settings, is_demo};

/// More pieces hardly change ten numbers, and each job costs a fold: the jobs touched last are enough.
const MOST_PIECES: usize = 2000;

/// What a count that is made now is calibrated by; `None` where the shop did not ask for it, confirmed too few pieces, or
/// is the invented demo. `but` is the photo that is counted: what was said of it must not decide how it is read.
pub(super) fn in_force(
    app: &App,
    store: &Store,
    but: EntryId,
) -> Result<Option<Calibration>, Problem> {
    let asked = device_settings(store)?.unwrap_or_default();
    if !asked.calibrated || is_demo(store)? {
        return Ok(None);
    }
    learned(app, store, Some(but))
}

/// What the pieces confirmed so far come to; `None` for too few.
pub(super) fn learned(
    app: &App,
    store: &Store,
    but: Option<EntryId>,
) -> Result<Option<Calibration>, Problem> {
    jobs::refresh(app, store)?;
    let mut pieces = Vec::new();
    for row in store.jobs("", 0, u32::MAX)?.rows {
        let teaches = jobs::record(&row.row).is_none_or(|record| !record.cells.is_empty());
        if teaches {
            pieces.extend(known(&app.jobs().glanced(store, row.job)?.state, but));
        }
        if pieces.len() >= MOST_PIECES {
            break;
        }
    }
    Ok(calibration(&pieces))
}
