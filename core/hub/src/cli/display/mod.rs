//! `swarfbook display`: which number a meter's display in a photo shows, without a store.

mod line;

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_display::Display;

use super::{Failure, in_order};

#[derive(Args)]
pub(super) struct DisplayOf {
    /// Photos: JPEG, PNG or WebP.
    #[arg(required = true, value_name = "PHOTO")]
    photos: Vec<PathBuf>,
    /// One JSON line a photo, in the order given.
    #[arg(long)]
    json: bool,
}

/// The exit code when a display could not be read for sure.
const SOME_UNREAD: u8 = 1;

impl DisplayOf {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let display = Display::built_in().map_err(|error| Failure::new(error.to_string()))?;
        let threads = std::thread::available_parallelism().map_or(1, usize::from);
        let mut out = crate::cli::out::out();
        let mut unread = false;
        in_order::in_order(
            &self.photos,
            threads,
            |photo| line::of(&display, photo),
            |line| {
                unread |= line.problem.is_some();
                if self.json {
                    serde_json::to_writer(&mut out, &line).map_err(std::io::Error::from)?;
                    writeln!(out)?;
                } else {
                    writeln!(out, "{}", line.row())?;
                }
                Ok::<(), Failure>(out.flush()?)
            },
        )?;
        Ok(if unread {
            ExitCode::from(SOME_UNREAD)
        } else {
            ExitCode::SUCCESS
        })
    }
}
