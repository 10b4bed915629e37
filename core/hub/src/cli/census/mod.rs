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
use super::{Failure, in_order};

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

/// The exit code when a photo could not be read or has no scale.
const SOME_UNREAD: u8 = 1;

impl CensusOf {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let hints = match &self.hints {
            Some(file) => Hints::read(file)?,
            None => Hints::default(),
        };
        let threads = match self.threads {
            Some(threads) => usize::from(threads),
            None => std::thread::available_parallelism().map_or(1, usize::from),
        };
        let as_told = self.kind.map(PhotoKind::from);
        let mut out = crate::cli::out::out();
        let mut unread = false;
        if !self.json {
            writeln!(out, "{}", table::HEAD)?;
        }
        in_order::in_order(
            &self.photos,
            threads,
            |photo| line::of(photo, as_told, &hints),
            |line| {
                unread |= line.census.problem.is_some();
                if self.json {
                    serde_json::to_writer(&mut out, &line).map_err(std::io::Error::from)?;
                    writeln!(out)?;
                } else {
                    writeln!(out, "{}", table::row(&line))?;
                }
                Ok::<(), Failure>(out.flush()?)
            },
        )?;
        Ok(if unread {
            ExitCode::from(SOME_UNREAD)
        } else {
            ExitCode::SUCCESS
        })
    }
}
