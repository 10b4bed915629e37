//! Photos beside the door: bytes in, copies out.

use swarfbook_job::id::Sha256Hex;
use swarfbook_words::say;

use crate::problem::Problem;
use crate::state::App;
use crate::state::copies;

/// The longest side of a copy that is not asked for smaller: enough to zoom
/// into debris, little enough for a phone's memory.
const COPY_MAX_PX: u32 = 4096;

pub(crate) fn put(app: &App, bytes: &[u8]) -> Result<Sha256Hex, Problem> {
    // Refused before it is kept: what can't be shown is no evidence.
    let upright = swarfbook_debris::decode(bytes).map_err(unreadable)?;
    let (photo, photos) = {
        let store = app.store();
        (store.put_photo(bytes)?, store.photos())
    };
    // It is decoded now; for the report it would have to be again.
    if !copies::has(&photos, photo)
        && let Ok(copy) = copies::make(upright)
    {
        copies::keep(&photos, photo, &copy);
    }
    Ok(photo)
}

pub(crate) fn copy(
    app: &App,
    photo: Sha256Hex,
    max_width: Option<u32>,
) -> Result<Vec<u8>, Problem> {
    let bytes = app.store().photo(photo)?;
    let side = max_width.unwrap_or(COPY_MAX_PX).clamp(16, COPY_MAX_PX);
    swarfbook_debris::copy_without_metadata(&bytes, side).map_err(unreadable)
}

pub(super) fn unreadable(why: swarfbook_debris::Unreadable) -> Problem {
    Problem::bad_input(
        say!("this-photo-cant-be-used-why", why = why),
        say!("take-it-again-in-the-app-or-choose"),
    )
}
