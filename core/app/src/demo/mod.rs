//! The invented demo shop: three jobs in different states, so that the app can
//! be looked at whole. Nothing in it is real, and every screen and report of it
//! says so (setting `demo`).

mod jobs;
mod script;

use std::fs;
use std::io;
use std::path::Path;

use crate::problem::{Problem, ProblemKind};
use crate::settings::Settings;
use crate::state::App;

/// Opens the store in `dir`; one that holds no job is filled with the demo. A
/// new folder appears with all of it or not at all, whenever this is cut off.
///
/// # Errors
/// As [`App::open`] and [`load`].
pub fn open(dir: &Path) -> Result<App, Problem> {
    let fresh = fs::read_dir(dir).map_or(true, |mut found| found.next().is_none());
    if fresh {
        let mut half = dir.as_os_str().to_owned();
        half.push(".half");
        let half = Path::new(&half);
        match fs::remove_dir_all(half) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                return Err(unusable(half, &error));
            }
            _ => {}
        }
        load(&App::open(half)?)?;
        fs::rename(half, dir).map_err(|error| unusable(dir, &error))?;
    }
    let app = App::open(dir)?;
    load(&app)?;
    Ok(app)
}

fn unusable(dir: &Path, error: &io::Error) -> Problem {
    Problem::new(
        ProblemKind::Storage,
        format!("The folder {} can't be used: {error}.", dir.display()),
        "Name another folder for the demo, or make room.",
    )
}

/// Loads the demo into an empty store; a store that holds a job is left as it is.
///
/// # Errors
/// As the store's, and when a line of the demo would be refused at the door.
pub fn load(app: &App) -> Result<(), Problem> {
    if app.store().jobs("", 0, 0)?.total > 0 {
        return Ok(());
    }
    app.store().set(crate::state::settings::DEMO, &true)?;
    app.store().set(
        crate::state::settings::DEVICE_SETTINGS,
        &Settings {
            technician: "Robin Invented".into(),
            shop: "Invented Driveline Shop (demo)".into(),
            ..Settings::default()
        },
    )?;
    let now = app.clock().now();
    jobs::settled_solenoid(app, now - chrono::Duration::days(6))?;
    jobs::heavy_steel(app, now - chrono::Duration::hours(3))?;
    jobs::just_taken_in(app, now - chrono::Duration::minutes(25))?;
    Ok(())
}
