//! A photo's file: its name and its bytes.

use std::path::Path;

use swarfbook_store::MAX_PHOTO_BYTES;

/// Its name without its folder.
pub(super) fn name_of(photo: &Path) -> String {
    match photo.file_name() {
        Some(name) => name.to_string_lossy().into_owned(),
        None => photo.display().to_string(),
    }
}

/// Its bytes, or in words why there are none.
pub(super) fn bytes_of(photo: &Path) -> Result<Vec<u8>, String> {
    let wrong = |error: std::io::Error| format!("The file can't be opened: {error}.");
    let size = std::fs::metadata(photo).map_err(wrong)?.len();
    if size > MAX_PHOTO_BYTES as u64 {
        return Err(format!(
            "The file has {} MB; a photo has at most {} MB.",
            size / 1_048_576,
            MAX_PHOTO_BYTES / 1_048_576
        ));
    }
    std::fs::read(photo).map_err(wrong)
}
