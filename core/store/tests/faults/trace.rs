//! What a disk was told, one change after another: as `disk.c` wrote it down.

use std::fs::{self, File};
use std::path::Path;

/// One change, or words that were said in between. Paths are those below the watched folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Change {
    /// A file that was not there.
    Made {
        file: u64,
        path: String,
    },
    Written {
        file: u64,
        at: usize,
        bytes: Vec<u8>,
    },
    /// It was made longer or shorter.
    Sized {
        file: u64,
        bytes: usize,
    },
    /// All of a file reached the disk, or that failed.
    Synced {
        file: u64,
        failed: bool,
    },
    /// The names in a folder did.
    FolderSynced {
        path: String,
        failed: bool,
    },
    FolderMade {
        path: String,
    },
    Renamed {
        from: String,
        to: String,
    },
    Removed {
        path: String,
    },
    Said(String),
}

/// Gives the disk of this thread an order; whether it answers yes.
pub fn order(words: &str) -> bool {
    let answer = File::open(format!("/disk-of-the-test/{words}"));
    answer.is_err_and(|why| why.kind() == std::io::ErrorKind::AlreadyExists)
}

/// Reads what was written down of what went on below `root`.
pub fn read(trace: &Path, root: &Path) -> Vec<Change> {
    let bytes = fs::read(trace).expect("a trace");
    let mut rest = bytes.as_slice();
    let mut changes = Vec::new();
    while let Some((head, after)) = rest.split_at_checked(26) {
        let number = |at: usize| u64::from_le_bytes(head[at..at + 8].try_into().expect("eight"));
        let (file, size) = (number(2), number(10) as usize);
        let (with, after) = after.split_at(number(18) as usize);
        rest = after;
        let path = |bytes: &[u8]| {
            let path = std::str::from_utf8(bytes).expect("a path");
            let path = Path::new(path).strip_prefix(root).expect("below the root");
            path.to_str().expect("a path").to_owned()
        };
        let failed = head[1] == 1;
        changes.push(match head[0] {
            b'c' => Change::Made {
                file,
                path: path(with),
            },
            b'w' => Change::Written {
                file,
                at: size,
                bytes: with.to_vec(),
            },
            b't' => Change::Sized { file, bytes: size },
            b's' => Change::Synced { file, failed },
            b'S' => Change::FolderSynced {
                path: path(with),
                failed,
            },
            b'd' => Change::FolderMade { path: path(with) },
            b'r' => {
                let mut both = with.split(|byte| *byte == b'\n');
                let mut next = || path(both.next().expect("two"));
                Change::Renamed {
                    from: next(),
                    to: next(),
                }
            }
            b'u' => Change::Removed { path: path(with) },
            b'm' => Change::Said(String::from_utf8(with.to_vec()).expect("words")),
            what => panic!("{what}"),
        });
    }
    changes
}
