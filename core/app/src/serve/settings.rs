//! How this device is set, what is half typed, where the technician stands.

use serde::{Deserialize, Serialize};
use swarfbook_job::id::JobId;
use swarfbook_measure::conformity::Guard;
use swarfbook_measure::unit::Units;
use swarfbook_measure::vin::Market;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use crate::app::App;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::settings::Settings;

/// Where the technician stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Place {
    pub job: Option<JobId>,
    pub place: String,
}

/// How long a draft may be; longer text is a fault of the screen, not a note.
const MAX_DRAFT_CHARS: usize = 20_000;

/// The name that this device's settings are kept under.
pub(crate) const DEVICE_SETTINGS: &str = "device_settings";

pub(crate) fn device_settings(store: &Store) -> Result<Option<Settings>, Problem> {
    Ok(store.setting(DEVICE_SETTINGS)?)
}

/// Where the cars were sold.
pub(crate) fn market(store: &Store) -> Result<Market, Problem> {
    let settings = device_settings(store)?.unwrap_or_default();
    Ok(settings.market.unwrap_or(Market::Unknown))
}

/// The units that numbers are typed and read in.
pub(crate) fn units(store: &Store) -> Result<Units, Problem> {
    Ok(device_settings(store)?.unwrap_or_default().units)
}

pub(super) fn get(app: &App) -> Result<Reply, Problem> {
    let settings = device_settings(&app.store())?.unwrap_or_default();
    Ok(Reply::Settings { settings })
}

pub(super) fn save(app: &App, settings: Settings) -> Result<Reply, Problem> {
    crate::check::text(term!("The name"), &settings.technician, crate::check::SHORT)?;
    crate::check::text(
        term!("The shop's name"),
        &settings.shop,
        crate::check::SHORT,
    )?;
    if let Some(meter) = &settings.meter {
        crate::check::meter(meter)?;
    }
    if let Some(level) = settings.guard {
        Guard { level }.check().map_err(|why| {
            Problem::bad_input(why.to_string(), say!("Choose one of those offered."))
        })?;
    }
    settings
        .units
        .check()
        .map_err(|why| Problem::bad_input(why.to_string(), say!("Choose one of those offered.")))?;
    let mut store = app.store();
    // The list's lines are kept as they were said.
    let spoke = device_settings(&store)?.unwrap_or_default().language;
    store.set(DEVICE_SETTINGS, &settings)?;
    if settings.language != spoke {
        store.make_stale()?;
    }
    Ok(Reply::Settings { settings })
}

pub(super) fn keep_draft(app: &App, job: JobId, field: &str, text: &str) -> Result<Reply, Problem> {
    crate::check::text(term!("The field's name"), field, crate::check::SHORT)?;
    crate::check::text(term!("The draft"), text, MAX_DRAFT_CHARS)?;
    app.store().keep_draft(job, field, text)?;
    Ok(Reply::Done {})
}

pub(super) fn stand_at(app: &App, job: Option<JobId>, place: String) -> Result<Reply, Problem> {
    crate::check::text(term!("The place"), &place, crate::check::SHORT)?;
    app.store().set("place", &Place { job, place })?;
    Ok(Reply::Done {})
}
