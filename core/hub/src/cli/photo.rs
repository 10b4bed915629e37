//! `swarfbook photo`: keeps a photo and prints its name.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::{Data, Failure};

#[derive(Args)]
pub(super) struct Photo {
    /// The photo: JPEG, PNG or WebP.
    file: PathBuf,
    #[command(flatten)]
    data: Data,
}

impl Photo {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let bytes = std::fs::read(&self.file).map_err(|error| Failure::file(&self.file, &error))?;
        println!("{}", self.data.open()?.put_photo(&bytes)?);
        Ok(ExitCode::SUCCESS)
    }
}
