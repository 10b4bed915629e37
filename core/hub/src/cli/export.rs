//! `swarfbook export` and `swarfbook import`: everything as one file, out and in.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_job::id::Sha256Hex;
use swarfbook_store::{Exported, NotWhole};

use super::not_whole::{self, NOT_WHOLE};
use super::{Data, Failure, refuse_inside};

#[derive(Args)]
pub(super) struct Export {
    #[command(flatten)]
    data: Data,
    /// The file to write: a ZIP archive that explains itself.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

impl Export {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        refuse_inside(&self.out, Some(&self.data))?;
        let app = self.data.open()?;
        let holds = app.export(&self.out)?;
        let lost = app.photos_lost()?;
        tell("holds", &holds, &lost)?;
        if holds.not_whole != NotWhole::default() || !lost.is_empty() {
            return Ok(ExitCode::from(NOT_WHOLE));
        }
        Ok(ExitCode::SUCCESS)
    }
}

#[derive(Args)]
pub(super) struct Import {
    /// The ZIP that `swarfbook export` wrote.
    file: PathBuf,
    #[command(flatten)]
    data: Data,
}

impl Import {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        tell("new", &self.data.open()?.import(&self.file)?, &[])?;
        Ok(ExitCode::SUCCESS)
    }
}

fn tell(what: &str, how_much: &Exported, lost: &[Sha256Hex]) -> Result<(), Failure> {
    let Exported {
        entries,
        photos,
        photos_missing,
        customers,
        procedures,
        not_whole,
        unsigned,
    } = how_much;
    let mut out = super::out::out();
    writeln!(
        out,
        "{what}: lines {entries}, photos {photos}, customers {customers}, procedures {procedures}"
    )?;
    if *unsigned > 0 {
        writeln!(
            out,
            "not signed: {unsigned} of these lines; nothing shows that their devices wrote them"
        )?;
    }
    not_whole::lines(&mut out, &not_whole.lines_lost, not_whole.lines_unnamed)?;
    not_whole::photos(&mut out, *photos_missing, lost, &not_whole.photos_damaged)?;
    Ok(())
}
