//! Where files may be written that are no part of a store: not in its folder, and over none of
//! its files, by whatever name they are called.

use std::fs;
use std::path::{Path, PathBuf};

use crate::StoreError;

/// A folder with a file of this name is that of a store, or of a backup.
const DATABASE: &str = "swarfbook.db";
/// More links than a system follows itself.
const MOST_LINKS: u32 = 40;

/// Refuses a file that would lie in `data`, which may not be there yet, or in the folder of any
/// other store or backup.
///
/// # Errors
/// [`StoreError::Inside`].
pub fn refuse_inside(file: &Path, data: Option<&Path>) -> Result<(), StoreError> {
    let there = place(file);
    let is_in = |dir: &PathBuf| there.starts_with(dir) || is_file_of(&there, dir);
    let mut above = there.ancestors().skip(1);
    let dir = data.map(place).filter(is_in).or_else(|| {
        above
            .find(|dir| dir.join(DATABASE).exists())
            .map(Path::to_owned)
    });
    match dir {
        None => Ok(()),
        Some(dir) => Err(StoreError::Inside {
            file: file.to_owned(),
            dir,
        }),
    }
}

/// Where a path leads, through links and also where nothing is there yet.
pub(crate) fn place(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    led(path, &mut MOST_LINKS.clone())
}

fn led(path: PathBuf, links: &mut u32) -> PathBuf {
    if let Ok(there) = path.canonicalize() {
        return there;
    }
    let Some(above) = path.parent() else {
        return path;
    };
    // A link to what is not there yet.
    if *links > 0
        && let Ok(to) = fs::read_link(&path)
    {
        *links -= 1;
        return led(above.join(to), links);
    }
    let mut there = led(above.to_owned(), links);
    match path.file_name() {
        Some(name) => there.push(name),
        // It ends in `..`.
        None => {
            there.pop();
        }
    }
    there
}

/// Whether a file is one of a store by a second name (a hard link).
#[cfg(unix)]
fn is_file_of(file: &Path, dir: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    let Ok(file) = fs::metadata(file) else {
        return false;
    };
    let mut files = fs::read_dir(dir).into_iter().flatten().flatten();
    file.nlink() > 1
        && files.any(|other| {
            let other = other.metadata();
            other.is_ok_and(|other| (other.dev(), other.ino()) == (file.dev(), file.ino()))
        })
}

#[cfg(not(unix))]
fn is_file_of(_: &Path, _: &Path) -> bool {
    false
}
