//! `swarfbook report`: the report of a job as a signed file.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};
use swarfbook_app::command::{Command, CopyAsked, Sheet};
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::LeaveOut;
use swarfbook_job::id::JobId;
use swarfbook_words::Language;

use super::{Data, Failure, refuse_inside};

#[derive(Args)]
pub(super) struct Report {
    /// The job's id, as `swarfbook jobs` lists it.
    job: String,
    #[command(flatten)]
    data: Data,
    /// The file to write; its name ends in .html or .pdf.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// The paper of a PDF.
    #[arg(long, value_enum, default_value_t = PaperOf::A4)]
    paper: PaperOf,
    /// Leave this out of the copy; may be given twice.
    #[arg(long, value_enum, value_name = "WHAT")]
    leave_out: Vec<Left>,
    /// The language of the report; that of the data's device when none is named.
    #[arg(long, value_enum)]
    language: Option<LanguageOf>,
}

#[derive(Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Left {
    /// The customer's name.
    Customer,
    /// The plate, and the VIN but for its last four characters.
    Car,
}

#[derive(Clone, Copy, ValueEnum)]
enum PaperOf {
    A4,
    Letter,
}

#[derive(Clone, Copy, ValueEnum)]
pub(super) enum LanguageOf {
    En,
    De,
    Es,
}

impl LanguageOf {
    pub(super) fn language(self) -> Language {
        match self {
            LanguageOf::En => Language::En,
            LanguageOf::De => Language::De,
            LanguageOf::Es => Language::Es,
        }
    }
}

/// The exit code for a form of report that is not made.
const NOT_MADE: u8 = 2;

impl Report {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let form = self.out.extension().and_then(|form| form.to_str());
        let pdf = match form {
            Some("html") => false,
            Some("pdf") => true,
            _ => {
                return Err(Failure {
                    words:
                        "The report is made as HTML or PDF. Name a file that ends in .html or .pdf."
                            .to_owned(),
                    code: NOT_MADE,
                });
            }
        };
        let job: JobId = self
            .job
            .parse()
            .map_err(|_| Failure::new("This is no job's id. `swarfbook jobs` lists them."))?;
        refuse_inside(&self.out, Some(&self.data))?;
        let app = self.data.open()?;
        let leave_out = LeaveOut {
            customer: self.leave_out.contains(&Left::Customer),
            car: self.leave_out.contains(&Left::Car),
            keep_texts: false,
        };
        let language = self.language.map(LanguageOf::language);
        let bytes = if pdf {
            let sheet = match self.paper {
                PaperOf::A4 => Sheet::A4,
                PaperOf::Letter => Sheet::Letter,
            };
            let copy = CopyAsked {
                leave_out,
                language,
            };
            app.report_pdf(job, sheet, copy)?
        } else {
            let made = Command::MakeReport {
                job,
                leave_out,
                language,
            };
            let Reply::Report { html, .. } = app.call(made)? else {
                return Err(Failure::new("The door gave another answer than a report."));
            };
            html.into_bytes()
        };
        swarfbook_store::private_file(&self.out)
            .and_then(|mut file| std::io::Write::write_all(&mut file, &bytes))
            .map_err(|error| Failure::file(&self.out, &error))?;
        Ok(ExitCode::SUCCESS)
    }
}
