//! Files that are there whole or not at all, and stay through a power cut.

use std::fs::{self, File};
use std::io::{ErrorKind, Write};
use std::path::Path;

use uuid::Uuid;

use crate::private::{private_file, private_folder};

/// What half-written files are called until they are whole.
pub(super) const HALF: &str = "half-";

/// Writes a file; a kill leaves the whole, or none and a half one in `halves`.
pub(crate) fn write_whole(halves: &Path, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let half = halves.join(format!("{HALF}{}", Uuid::new_v4()));
    let written = write_and_rename(&half, target, bytes);
    if written.is_err() {
        // What could not be written whole must not take up the room.
        let _ = fs::remove_file(&half);
    }
    written
}

fn write_and_rename(half: &Path, target: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = private_file(half)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    into_place(half, target)
}

/// Gives a file that is whole and synced its name.
pub(super) fn into_place(half: &Path, target: &Path) -> std::io::Result<()> {
    private_folder(target.parent().unwrap_or(target))?;
    fs::rename(half, target)?;
    // The name must be on disk too, or the entry would name nothing; and the folder's, which may be new.
    let lasting = target.ancestors().skip(1).take(2).try_for_each(sync_folder);
    if lasting.is_err() {
        // Who finds it later would take it for lasting.
        let _ = fs::remove_file(target);
    }
    lasting
}

/// Makes the name of a file or folder lasting. A folder above that may be passed through and
/// not read is left to the system.
pub(crate) fn sync_name(path: &Path) -> std::io::Result<()> {
    let Some(above) = path.parent() else {
        return Ok(());
    };
    match sync_folder(above) {
        Err(why) if why.kind() == ErrorKind::PermissionDenied => Ok(()),
        done => done,
    }
}

/// Windows can't open a folder as a file; there the rename is enough.
pub(crate) fn sync_folder(folder: &Path) -> std::io::Result<()> {
    if cfg!(unix) {
        // The folder of a bare name is the one that the program runs in.
        let is_bare = folder.as_os_str().is_empty();
        File::open(if is_bare { Path::new(".") } else { folder })?.sync_all()
    } else {
        Ok(())
    }
}
