//! How far the log has come, in a small file beside the database: a database that comes back
//! shorter, empty or without its write-ahead log is noticed by it.
//!
//! It is written after each commit and not synced, so that it costs no write to the disk that
//! anybody waits for. It may therefore lag behind the log (after a power cut by what the
//! system had not written yet), and is never ahead of it.

use std::cell::Cell;
use std::fs::{self, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::Path;

use swarfbook_job::id::Sha256Hex;

use crate::files::sync_folder;
use crate::private::owned;

const NAME: &str = "swarfbook.head";
/// Enough of the hash to tell a whole file from a torn one.
const CHECK_CHARS: usize = 16;

/// How many lines the log had when somebody last said so; `None` without a file that is whole.
pub(crate) fn read(dir: &Path) -> Option<u64> {
    let text = fs::read_to_string(dir.join(NAME)).ok()?;
    let lines = text.split_whitespace().nth(2)?.parse().ok()?;
    (text == written(lines)).then_some(lines)
}

/// Always of one length, so that it is written over in place.
fn written(lines: u64) -> String {
    let said = format!("swarfbook log: {lines:>16} lines ");
    let check = Sha256Hex::of(said.as_bytes()).to_string();
    let check: String = check.chars().take(CHECK_CHARS).collect();
    format!("{said}{check}\n")
}

/// The file, open, and what it says.
#[derive(Debug)]
pub(crate) struct HeadFile {
    file: fs::File,
    said: Cell<u64>,
}

impl HeadFile {
    /// Opens it, making it when it is not there; it says `lines` then, on the disk.
    pub(crate) fn open(dir: &Path, lines: u64) -> io::Result<HeadFile> {
        let before = read(dir);
        let path = dir.join(NAME);
        let file = owned(OpenOptions::new().write(true).create(true).truncate(false)).open(path)?;
        let head = HeadFile {
            file,
            said: Cell::new(lines),
        };
        if before != Some(lines) {
            head.put(lines)?;
        }
        if before.is_none() {
            head.file.sync_all()?;
            sync_folder(dir)?;
        }
        Ok(head)
    }

    /// Says that the log has come to `lines`. Where that can't be written it lags behind.
    pub(crate) fn say(&self, lines: u64) {
        if self.said.get() != lines && self.put(lines).is_ok() {
            self.said.set(lines);
        }
    }

    fn put(&self, lines: u64) -> io::Result<()> {
        let mut file = &self.file;
        file.seek(SeekFrom::Start(0))?;
        file.write_all(written(lines).as_bytes())
    }
}
