//! `swarfbook display`: which number a meter's display in a photo shows, without a store.

mod line;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;
use swarfbook_display::Display;

use super::{Failure, lines};

#[derive(Args)]
pub(super) struct DisplayOf {
    /// Photos: JPEG, PNG or WebP.
    #[arg(required = true, value_name = "PHOTO")]
    photos: Vec<PathBuf>,
    /// One JSON line a photo, in the order given.
    #[arg(long)]
    json: bool,
}

impl DisplayOf {
    pub(super) fn run(self) -> Result<ExitCode, Failure> {
        let display = Display::built_in().map_err(|error| Failure::new(error.to_string()))?;
        lines::print(&self.photos, None, self.json, |photo| {
            line::of(&display, photo)
        })
    }
}
