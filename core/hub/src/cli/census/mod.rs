//! `swarfbook census`: what photos show, without a store.

mod hints;
mod line;
mod table;

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueEnum};
use swarfbook_job::census::PhotoKind;

use self::hints::Hints;
use super::out::out;
use super::{Failure, lines};

#[derive(Args)]
pub(super) struct CensusOf {
    /// Photos: JPEG, PNG or WebP.
    #[arg(required = true, value_name = "PHOTO")]
    photos: Vec<PathBuf>,
    /// One JSON line a photo, in the order given.
    #[arg(long)]
    json: bool,
    /// What all the photos show; else their hints say it, else their names up to the first `-`.
    #[arg(long = "as", value_name = "KIND")]
    kind: Option<Kind>,
    /// What a technician would tap or measure, by file name.
    #[arg(long, value_name = "FILE")]
    hints: Option<PathBuf>,
    /// How many threads may work; all processors when not given.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    threads: Option<u16>,
}

#[derive(Clone, Copy, ValueEnum)]
enum Kind {
    Patch,
    Pan,
    Magnet,
}

impl From<Kind> for PhotoKind {
    fn from(kind: Kind) -> PhotoKind {
        match kind {
            Kind::Patch => PhotoKind::Patch,
            Kind::Pan => PhotoKind::Pan,
            Kind::Magnet => PhotoKind::Magnet,
        }
    }
}

impl CensusOf {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let hints = match &self.hints {
            Some(file) => Hints::read(file)?,
            None => Hints::default(),
        };
        let as_told = self.kind.map(PhotoKind::from);
        if !self.json {
            writeln!(out(), "{}", table::HEAD)?;
        }
        lines::print(
            &self.photos,
            self.threads.map(usize::from),
            self.json,
            |photo| line::of(photo, as_told, &hints),
        )
    }
}
