//! `swarfbook card`: the gauge card, to print.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::report::LanguageOf;
use super::{Failure, refuse_inside};

#[derive(Args)]
pub(super) struct Card {
    /// The file to write; its name ends in .pdf.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// The language of its words.
    #[arg(long, value_enum, default_value_t = LanguageOf::En)]
    language: LanguageOf,
}

impl Card {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        if self.out.extension().and_then(|form| form.to_str()) != Some("pdf") {
            return Err(Failure::new(
                "The card is made as PDF. Name a file that ends in .pdf.",
            ));
        }
        refuse_inside(&self.out, None)?;
        let bytes = swarfbook_app::card(self.language.language())?;
        std::fs::write(&self.out, bytes).map_err(|error| Failure::file(&self.out, &error))?;
        println!("Print it in true size (100 %), then measure the check line.");
        Ok(ExitCode::SUCCESS)
    }
}
