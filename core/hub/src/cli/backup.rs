//! `swarfbook backup` and `swarfbook restore`: a copy of the data folder that is whole, and a
//! data folder out of it.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_app::problem::Problem;
use swarfbook_store::{BackedUp, Store};

use super::not_whole::{self, NOT_WHOLE};
use super::{Data, Failure};

#[derive(Args)]
pub(super) struct Backup {
    /// The folder of the backup; a later one brings it up to date. It holds keys.
    to: PathBuf,
    #[command(flatten)]
    data: Data,
}

impl Backup {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        tell("backed up", &self.data.open()?.backup(&self.to)?)
    }
}

#[derive(Args)]
pub(super) struct Restore {
    /// The folder of the backup.
    from: PathBuf,
    /// The folder of the data to make; it is empty or not there.
    #[arg(long = "data", value_name = "DIR")]
    to: PathBuf,
}

impl Restore {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let done = Store::restore(&self.from, &self.to).map_err(Problem::from)?;
        tell("restored", &done)
    }
}

fn tell(what: &str, done: &BackedUp) -> Result<ExitCode, Failure> {
    let BackedUp {
        lines,
        lines_lost,
        lines_unnamed,
        lines_unfit,
        photos,
        photos_new,
        photos_missing,
        photos_lost,
        photos_damaged,
    } = done;
    let mut out = super::out::out();
    writeln!(
        out,
        "{what}: lines {lines}, photos {photos} ({photos_new} new)"
    )?;
    not_whole::lines(&mut out, lines_lost, *lines_unnamed)?;
    for (device, line) in lines_unfit {
        writeln!(
            out,
            "does not fit the line before it: line {line} of device {device}"
        )?;
    }
    not_whole::photos(&mut out, *photos_missing, photos_lost, photos_damaged)?;
    if done.is_whole() {
        Ok(ExitCode::SUCCESS)
    } else {
        Ok(ExitCode::from(NOT_WHOLE))
    }
}
