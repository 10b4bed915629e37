//! `swarfbook verifier`: the page that checks a report offline, as a file.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::{Failure, refuse_inside};
use crate::serve::ui::verifier_page;

#[derive(Args)]
pub(super) struct Verifier {
    /// The file to write (HTML).
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

impl Verifier {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        refuse_inside(&self.out, None)?;
        let page = verifier_page().ok_or_else(|| {
            Failure::new(
                "This program was built without that page. `make ui` makes it; \
                 `swarfbook verify FILE` does the same.",
            )
        })?;
        std::fs::write(&self.out, page).map_err(|error| Failure::file(&self.out, &error))?;
        Ok(ExitCode::SUCCESS)
    }
}
