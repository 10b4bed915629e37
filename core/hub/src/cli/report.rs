//! `swarfbook report`: the report of a job as a file.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_app::command::Command;
use swarfbook_app::reply::Reply;
use swarfbook_job::id::JobId;

use super::{Data, Failure};

#[derive(Args)]
pub(super) struct Report {
    /// The job's id, as `swarfbook jobs` lists it.
    job: String,
    #[command(flatten)]
    data: Data,
    /// The file to write; its name ends in .html.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
}

/// The exit code for a form of report that can't be made.
const NOT_MADE: u8 = 2;

impl Report {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let form = self.out.extension().and_then(|form| form.to_str());
        if form != Some("html") {
            return Err(Failure {
                words: match form {
                    Some("pdf") => "PDF reports can't be made yet. Name a file that ends in .html.",
                    _ => "The report is made as HTML. Name a file that ends in .html.",
                }
                .to_owned(),
                code: NOT_MADE,
            });
        }
        let job: JobId = self
            .job
            .parse()
            .map_err(|_| Failure::new("This is no job's id. `swarfbook jobs` lists them."))?;
        let reply = self.data.open()?.call(Command::MakeReport { job })?;
        let Reply::Report { html, .. } = reply else {
            return Err(Failure::new("The door gave another answer than a report."));
        };
        std::fs::write(&self.out, html).map_err(|error| Failure::file(&self.out, &error))?;
        Ok(ExitCode::SUCCESS)
    }
}
