//! `swarfbook lessons export`: what technicians confirmed and corrected, to hand on.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Subcommand};
use swarfbook_app::Lessons as Written;

use super::{Data, Failure, refuse_inside};

#[derive(Args)]
pub(super) struct Lessons {
    #[command(subcommand)]
    verb: Verb,
}

#[derive(Subcommand)]
enum Verb {
    /// Write the pieces that technicians confirmed or corrected to one file, without names, plates or times.
    Export {
        /// The file to write: a ZIP archive that explains itself.
        file: PathBuf,
        #[command(flatten)]
        data: Data,
    },
}

impl Lessons {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let Verb::Export { file, data } = self.verb;
        refuse_inside(&file, Some(&data))?;
        let Written {
            lessons,
            photos,
            photos_missing,
        } = data.open()?.export_lessons(&file)?;
        let mut out = super::out::out();
        writeln!(out, "lessons {lessons}, of photos {photos}")?;
        if photos_missing > 0 {
            writeln!(
                out,
                "photos with lessons that are not on this device or can't be read: {photos_missing}"
            )?;
        }
        writeln!(
            out,
            "A crop shows up to 1.5 mm around its piece. Look through the crops before you hand the file on."
        )?;
        Ok(ExitCode::SUCCESS)
    }
}
