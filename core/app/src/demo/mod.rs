//! The invented demo shop: three jobs in different states, so that the app can
//! be looked at whole. Nothing in it is real, and every screen and report of it
//! says so (setting `demo`).

mod jobs;
mod script;

use crate::app::App;
use crate::problem::Problem;
use crate::settings::Settings;

/// Loads the demo into an empty store; a store that holds a job is left as it is.
///
/// # Errors
/// As the store's, and when a line of the demo would be refused at the door.
pub fn load(app: &App) -> Result<(), Problem> {
    if app.store().jobs("", 0, 0)?.total > 0 {
        return Ok(());
    }
    app.store().set(crate::serve::start::DEMO, &true)?;
    app.store().set(
        crate::serve::settings::DEVICE_SETTINGS,
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
