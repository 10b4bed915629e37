//! The whole store as one file, out and in.

use std::fs::{self, File};
use std::io::{BufReader, BufWriter};
use std::path::{Path, PathBuf};

use serde::Deserialize;
use swarfbook_words::say;

use swarfbook_store::{Exported, StoreError, private_file, read_back};

use crate::problem::Problem;
use crate::settings::Settings;
use crate::state::App;
use crate::state::settings::DEMO;
use crate::state::settings::DEVICE_SETTINGS;

/// The settings that an export holds. Keys are none of them.
const TRAVEL: [&str; 2] = [DEVICE_SETTINGS, DEMO];

pub(crate) fn write(app: &App, to: &Path) -> Result<Exported, Problem> {
    let half = half_written(to);
    let written = write_half(app, &half).and_then(|holds| {
        fs::rename(&half, to)
            .map_err(|error| cannot(say!("path-cant-be-written", path = to.display()), error))?;
        Ok(holds)
    });
    if written.is_err() {
        // What could not be written whole must not pass for an export.
        let _ = fs::remove_file(&half);
    }
    Ok(written?)
}

fn write_half(app: &App, half: &Path) -> Result<Exported, StoreError> {
    let file = private_file(half)
        .map_err(|error| cannot(say!("path-cant-be-written", path = half.display()), error))?;
    let mut out = BufWriter::new(file);
    let holds = app.store().export(&mut out, &TRAVEL)?;
    out.into_inner()
        .map_err(|error| {
            cannot(
                say!("path-cant-be-written", path = half.display()),
                error.into_error(),
            )
        })?
        .sync_all()
        .map_err(|error| cannot(say!("path-cant-be-written", path = half.display()), error))?;
    // Not before it was read does anybody know that it can be.
    let file = File::open(half)
        .map_err(|error| cannot(say!("path-cant-be-read", path = half.display()), error))?;
    if read_back(BufReader::new(file))? != holds {
        return Err(StoreError::Export(say!(
            "the-export-does-not-read-as-it-was"
        )));
    }
    Ok(holds)
}

pub(crate) fn read(app: &App, from: &Path) -> Result<Exported, Problem> {
    let file = File::open(from)
        .map_err(|error| cannot(say!("path-cant-be-read", path = from.display()), error))?;
    let now_millis = u64::try_from(app.clock().now().timestamp_millis()).unwrap_or(0);
    let store = app.store();
    let is_other = |demo_there: bool| -> Result<bool, StoreError> {
        let demo_here = store.setting::<bool>(DEMO)?.unwrap_or(false);
        Ok(demo_here != demo_there && !store.heads()?.is_empty())
    };
    Ok(
        store.import_export(BufReader::new(file), now_millis, &TRAVEL, |settings| {
            let own = settings.get(DEVICE_SETTINGS);
            if own.is_some_and(|own| Settings::deserialize(own).is_err()) {
                return Some(say!("its-settings-cant-be-read"));
            }
            let demo_there = settings.get(DEMO).and_then(|value| value.as_bool()) == Some(true);
            match is_other(demo_there) {
                Ok(false) => None,
                Ok(true) => Some(say!("invented-jobs-of-the-demo-and-real-ones")),
                Err(why) => Some(why.to_string()),
            }
        })?,
    )
}

fn half_written(to: &Path) -> PathBuf {
    let mut name = to.as_os_str().to_owned();
    name.push(".half");
    PathBuf::from(name)
}

fn cannot(what: String, source: std::io::Error) -> StoreError {
    if source.kind() == std::io::ErrorKind::StorageFull {
        return StoreError::Full;
    }
    StoreError::File { what, source }
}
