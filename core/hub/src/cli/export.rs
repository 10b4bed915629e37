//! `swarfbook export` and `swarfbook import`: everything as one file, out and in.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_store::Exported;

use super::{Data, Failure};

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
        tell("holds", &self.data.open()?.export(&self.out)?)
    }
}

#[derive(Args)]
pub(super) struct Import {
    /// The export.
    file: PathBuf,
    #[command(flatten)]
    data: Data,
}

impl Import {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        tell("new", &self.data.open()?.import(&self.file)?)
    }
}

fn tell(what: &str, how_much: &Exported) -> Result<ExitCode, Failure> {
    let Exported {
        entries,
        photos,
        photos_missing,
        customers,
        procedures,
    } = how_much;
    let mut out = super::out::out();
    writeln!(
        out,
        "{what}: lines {entries}, photos {photos}, customers {customers}, procedures {procedures}"
    )?;
    if *photos_missing > 0 {
        writeln!(
            out,
            "photos that lines name and that are not on this device yet: {photos_missing}"
        )?;
    }
    Ok(ExitCode::SUCCESS)
}
