//! How far the log has come, in a small file beside the database: a database that comes back
//! shorter, empty or without its write-ahead log is noticed by it.
//!
//! It is written after each commit and not synced, so that it costs no write to the disk that
//! anybody waits for. It may therefore lag behind the log (after a power cut by what the
//! system had not written yet), and is never ahead of it. It says so twice, and is written to
//! the two places in turn, so that a write that the power tears leaves the other.

use std::fs::{self, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::{Mutex, PoisonError};

use swarfbook_job::id::Sha256Hex;

use crate::files::sync_folder;
use crate::private::owned;

pub(crate) const NAME: &str = "swarfbook.head";
/// Enough of the hash to tell a whole file from a torn one.
const CHECK_CHARS: usize = 16;

/// How many lines the log had when somebody last said so; `None` without a file that is whole.
pub(crate) fn read(dir: &Path) -> Option<u64> {
    places(dir).into_iter().flatten().max()
}

/// What is said in each of the two places, where it is whole; files of before have the first.
fn places(dir: &Path) -> [Option<u64>; 2] {
    let bytes = fs::read(dir.join(NAME)).unwrap_or_default();
    let mut places = bytes.chunks(written(0).len()).map(|place| {
        let text = std::str::from_utf8(place).ok()?;
        let lines = text.split_whitespace().nth(2)?.parse().ok()?;
        (text == written(lines)).then_some(lines)
    });
    [(); 2].map(|()| places.next().flatten())
}

/// Always of one length, so that it is written over in place.
fn written(lines: u64) -> String {
    let said = format!("swarfbook log: {lines:>16} lines ");
    let check = Sha256Hex::of(said.as_bytes()).to_string();
    let check: String = check.chars().take(CHECK_CHARS).collect();
    format!("{said}{check}\n")
}

/// The file, open, and what it says. Used by several threads.
#[derive(Debug)]
pub(crate) struct HeadFile(Mutex<Said>);

#[derive(Debug)]
struct Said {
    file: fs::File,
    lines: u64,
    /// Where it is said next: the place that says less, or nothing whole.
    next: usize,
}

impl HeadFile {
    /// Opens it, making it when it is not there; it says `lines` then, on the disk, where its
    /// folder has all names from then on.
    pub(crate) fn open(dir: &Path, lines: u64) -> io::Result<HeadFile> {
        let before = places(dir);
        let path = dir.join(NAME);
        let file = owned(OpenOptions::new().write(true).create(true).truncate(false)).open(path)?;
        let next = usize::from(before[0] > before[1]);
        let mut said = Said { file, lines, next };
        // Also where it says so: the sync of an earlier start may have failed.
        said.put(lines)?;
        said.file.sync_all()?;
        sync_folder(dir)?;
        Ok(HeadFile(Mutex::new(said)))
    }

    /// Says that the log has come to `lines`. Where that can't be written it lags behind.
    pub(crate) fn say(&self, lines: u64) {
        let mut said = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if said.lines != lines && said.put(lines).is_ok() {
            said.lines = lines;
        }
    }
}

impl Said {
    fn put(&mut self, lines: u64) -> io::Result<()> {
        let said = written(lines);
        self.file
            .seek(SeekFrom::Start((self.next * said.len()) as u64))?;
        self.file.write_all(said.as_bytes())?;
        self.next = 1 - self.next;
        Ok(())
    }
}
