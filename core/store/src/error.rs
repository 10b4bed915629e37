//! What can go wrong with a store.

use std::path::PathBuf;

use swarfbook_job::entry::EntryError;
use swarfbook_job::id::{DeviceId, Sha256Hex};
use swarfbook_words::{say, term};

use crate::KeyError;
use crate::held::Held;

/// What a database failed at that is neither full, damaged nor in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DatabaseFault {
    /// A row that it can't hold: an id that is taken already, or a number too large.
    Row,
    /// The disk, which does not answer.
    Disk,
    /// The file or its folder, which can't be opened or written.
    Folder,
    /// Something else.
    Other,
}

/// Why the store did not do it. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// The disk is full.
    #[error("{}", term!("the-storage-is-full"))]
    Full,
    /// The database file is not one, or is damaged.
    #[error("{}", say!("the-database-value-is-damaged", value = .0.display()))]
    Damaged(PathBuf),
    /// The same, and nothing of it can be saved.
    #[error("{}", say!("nothing-of-the-database-can-be-read", value = .0.display()))]
    Unsaved(PathBuf),
    /// There is no database, or an empty file, where a log was.
    #[error("{}", say!("the-database-value-is-empty-or-gone-where", value = .0.display()))]
    Gone(PathBuf),
    /// The store can only be read.
    #[error("{}", .0.words)]
    ReadOnly(Held),
    /// A folder that a backup can't be made in, or brought back from or to.
    #[error("{0}")]
    Backup(String),
    /// A file that is to be written would lie in the folder of a store.
    #[error("{}", say!("the-file-would-lie-in-a-folder-of-data", file = file.display(), dir = dir.display()))]
    Inside {
        /// The file as it was named.
        file: PathBuf,
        /// The folder of the store.
        dir: PathBuf,
    },
    /// The database was written by a newer version.
    #[error("{}", say!("the-database-has-form-found-this-version-knows", found = found, known = known))]
    Newer {
        /// Form of the file.
        found: i64,
        /// Newest form known.
        known: i64,
    },
    /// Another program holds the database.
    #[error("{}", term!("the-database-is-in-use-by-another-program"))]
    Busy,
    /// A photo that is named is not there, or is empty or too large.
    #[error("{0}")]
    Photo(String),
    /// A photo's file is not what its name says.
    #[error("{}", say!("the-photo-value-is-damaged-on-this-device", value = .0))]
    PhotoDamaged(Sha256Hex),
    /// A line does not follow the device's last one.
    #[error("{}", say!("line-seq-of-device-device-does-not-follow", seq = seq, device = device, next = next))]
    Gap {
        /// The one that wrote it.
        device: DeviceId,
        /// Number of the line that came.
        seq: u64,
        /// What would fit.
        next: u64,
    },
    /// A device's chain is broken, or forks: one of the two copies was changed.
    #[error("{}", say!("line-seq-of-device-device-does-not-fit", seq = seq, device = device, named = named))]
    Fork {
        /// The one that wrote it.
        device: DeviceId,
        /// Number of the line that does not fit.
        seq: u64,
        /// What it names as the hash before.
        named: Sha256Hex,
    },
    /// A line that its device did not sign, or that somebody else signed.
    #[error("{}", say!("line-seq-of-device-device-is-not-signed", seq = seq, device = device))]
    NotItsWriters {
        /// The device that it says it is of.
        device: DeviceId,
        /// Number of the line.
        seq: u64,
    },
    /// The key of this device can't be made or read.
    #[error(transparent)]
    Key(#[from] KeyError),
    /// A file that should be an export and is not, or not a whole one.
    #[error("{0}")]
    Export(String),
    /// An entry that can't be read or sealed.
    #[error(transparent)]
    Entry(#[from] EntryError),
    /// A file operation failed.
    #[error("{what}: {source}")]
    File {
        /// What was being done.
        what: String,
        /// Why it failed.
        source: std::io::Error,
    },
    /// The database failed in another way.
    #[error("{}", say!("the-database-did-not-answer-words", words = words))]
    Database {
        /// What it failed at.
        fault: DatabaseFault,
        /// How, in the words of its library.
        words: String,
    },
    /// What stands in a derived or settings column is not what was written. What the parser
    /// says is its source.
    #[error("{}", term!("a-setting-cant-be-read"))]
    Setting(#[from] serde_json::Error),
}

impl StoreError {
    pub(crate) fn file(what: impl Into<String>) -> impl FnOnce(std::io::Error) -> StoreError {
        let what = what.into();
        move |source| {
            if source.kind() == std::io::ErrorKind::StorageFull {
                StoreError::Full
            } else {
                StoreError::File { what, source }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_that_finds_no_room_says_that_the_storage_is_full() {
        let no_room = std::io::Error::from(std::io::ErrorKind::StorageFull);
        let told = StoreError::file("the photo can't be written")(no_room);
        assert!(matches!(told, StoreError::Full));
        let other = std::io::Error::from(std::io::ErrorKind::PermissionDenied);
        let told = StoreError::file("the photo can't be written")(other);
        assert!(matches!(told, StoreError::File { .. }));
    }
}
