//! Files and folders that only the account that runs the program may read: they hold
//! customers' names, and keys. (Windows gives a folder of one's own to its owner alone.)

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::Path;

use crate::files::sync_name;

/// Makes or empties a file that only its owner may read (0600).
///
/// # Errors
/// As the system's.
pub fn private_file(path: &Path) -> io::Result<File> {
    let file = owned(OpenOptions::new().write(true).create(true).truncate(true)).open(path)?;
    // It may have been there before, for others to read.
    tighten(path, 0o600);
    Ok(file)
}

/// The same options, for a file that only its owner may read if it is made.
#[cfg_attr(not(unix), allow(unused_mut))]
pub(crate) fn owned(options: &mut OpenOptions) -> &mut OpenOptions {
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options
}

/// Makes a folder and those above it, those that are new for the owner alone (0700), so that
/// they last.
pub(crate) fn private_folder(path: &Path) -> io::Result<()> {
    let new = path.ancestors().take_while(|folder| !folder.exists());
    let new: Vec<&Path> = new.collect();
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    builder.create(path)?;
    new.into_iter().rev().try_for_each(sync_name)
}

/// Closes to others what is there. A file system that knows no rights, or a file of
/// another account, is left as it is: the store can be used all the same.
pub(crate) fn tighten(path: &Path, mode: u32) {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let open = fs::metadata(path).is_ok_and(|meta| meta.permissions().mode() & 0o077 != 0);
        if open {
            let _ = fs::set_permissions(path, fs::Permissions::from_mode(mode));
        }
    }
    #[cfg(not(unix))]
    let _ = (path, mode);
}
