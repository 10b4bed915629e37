//! What is said of photos, a line each: JSON, or a row for people.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use serde::Serialize;

use super::Failure;
use super::in_order::in_order;

/// The exit code when one of the photos could not be read.
const SOME_UNREAD: u8 = 1;

/// What is said of a photo.
pub(super) trait Line: Serialize + Send {
    /// Whether it could not be read.
    fn unread(&self) -> bool;
    /// The line for people.
    fn row(&self) -> String;
}

/// Writes the line of each photo in the order given, as soon as it is there.
pub(super) fn print<L: Line>(
    photos: &[PathBuf],
    threads: Option<usize>,
    json: bool,
    of: impl Fn(&Path) -> L + Sync,
) -> Result<ExitCode, Failure> {
    let threads =
        threads.unwrap_or_else(|| std::thread::available_parallelism().map_or(1, usize::from));
    let mut out = crate::cli::out::out();
    let mut unread = false;
    in_order(photos, threads, of, |line| {
        unread |= line.unread();
        if json {
            serde_json::to_writer(&mut out, &line).map_err(std::io::Error::from)?;
            writeln!(out)?;
        } else {
            writeln!(out, "{}", line.row())?;
        }
        Ok::<(), Failure>(out.flush()?)
    })?;
    Ok(if unread {
        ExitCode::from(SOME_UNREAD)
    } else {
        ExitCode::SUCCESS
    })
}
