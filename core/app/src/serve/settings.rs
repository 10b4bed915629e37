//! How this device is set, what is half typed, where the technician stands.

use swarfbook_job::fact::Tools;
use swarfbook_job::id::JobId;
use swarfbook_measure::conformity::Guard;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use crate::caller::caller;
use crate::problem::Problem;
use crate::reply::Reply;
use crate::settings::Settings;
use crate::state::App;
use crate::state::settings::{DEVICE_SETTINGS, PLACE, Place, device_settings, own_name};

/// How long a draft may be; longer text is a fault of the screen, not a note.
const MAX_DRAFT_CHARS: usize = 20_000;

pub(super) fn get(app: &App) -> Result<Reply, Problem> {
    let settings = device_settings(app.store())?.unwrap_or_default();
    Ok(Reply::Settings { settings })
}

/// Keeps how the caller is set, and what of it is the shop's for every browser of the hub.
fn keep(store: &Store, chosen: &Settings) -> Result<(), Problem> {
    store.set(&own_name(DEVICE_SETTINGS), chosen)?;
    if caller().is_none() {
        return Ok(());
    }
    let hub: Option<Settings> = store.setting(DEVICE_SETTINGS)?;
    // The first browser sets the hub up; nobody's name is the hub's.
    let hub = hub.unwrap_or_else(|| Settings {
        technician: String::new(),
        meter: None,
        tools: Tools::default(),
        ..chosen.clone()
    });
    let hub = Settings {
        shop: chosen.shop.clone(),
        address: chosen.address.clone(),
        telephone: chosen.telephone.clone(),
        guard: chosen.guard,
        market: chosen.market,
        calibrated: chosen.calibrated,
        ..hub
    };
    Ok(store.set(DEVICE_SETTINGS, &hub)?)
}

pub(super) fn save(app: &App, settings: Settings) -> Result<Reply, Problem> {
    crate::check::text(term!("the-name"), &settings.technician, crate::check::SHORT)?;
    crate::check::text(term!("the-shops-name"), &settings.shop, crate::check::SHORT)?;
    crate::check::text(
        term!("the-shops-address"),
        &settings.address,
        crate::check::SHORT,
    )?;
    crate::check::text(
        term!("the-shops-telephone-number"),
        &settings.telephone,
        crate::check::SHORT,
    )?;
    if let Some(meter) = &settings.meter {
        crate::check::meter(meter)?;
    }
    crate::check::tools(&settings.tools)?;
    if let Some(level) = settings.guard {
        Guard { level }.check().map_err(|why| {
            Problem::bad_input(why.to_string(), say!("choose-one-of-those-offered"))
        })?;
    }
    settings
        .units
        .check()
        .map_err(|why| Problem::bad_input(why.to_string(), say!("choose-one-of-those-offered")))?;
    (app.store()).together(|store| keep(store, &settings))?;
    Ok(Reply::Settings { settings })
}

pub(super) fn keep_draft(app: &App, job: JobId, field: &str, text: &str) -> Result<Reply, Problem> {
    crate::check::text(term!("the-fields-name"), field, crate::check::SHORT)?;
    crate::check::text(term!("the-draft"), text, MAX_DRAFT_CHARS)?;
    app.store().keep_draft(job, &own_name(field), text)?;
    Ok(Reply::Done {})
}

pub(super) fn stand_at(app: &App, job: Option<JobId>, place: String) -> Result<Reply, Problem> {
    crate::check::text(term!("the-place"), &place, crate::check::SHORT)?;
    // Where nothing can be written, looking around works all the same.
    app.store()
        .set_for_this_run(&own_name(PLACE), &Place { job, place })?;
    Ok(Reply::Done {})
}
