//! How this device is set, what is half typed, where the technician stands.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::id::JobId;
use swarfbook_measure::conformity::Guard;
use swarfbook_measure::unit::Units;
use swarfbook_measure::vin::Market;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use crate::app::App;
use crate::caller::{Profile, caller};
use crate::problem::Problem;
use crate::reply::Reply;
use crate::settings::Settings;

/// Where the technician stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Place {
    pub job: Option<JobId>,
    pub place: String,
}

/// The name that a place is kept under.
const PLACE: &str = "place";

/// How long a draft may be; longer text is a fault of the screen, not a note.
const MAX_DRAFT_CHARS: usize = 20_000;

/// The name that this device's settings are kept under.
pub(crate) const DEVICE_SETTINGS: &str = "device_settings";

/// The name that something of the caller's own is kept under.
fn own_name(what: &str) -> String {
    match caller() {
        Some(profile) => format!("{what} {}", profile.as_str()),
        None => what.to_owned(),
    }
}

/// How the caller is set; `None` before the first time. What is the shop's, every browser
/// of the hub has from the hub.
pub(crate) fn kept_settings(store: &Store) -> Result<Option<Settings>, Problem> {
    let own: Option<Settings> = store.setting(&own_name(DEVICE_SETTINGS))?;
    if caller().is_none() {
        return Ok(own);
    }
    let hub: Settings = store.setting(DEVICE_SETTINGS)?.unwrap_or_default();
    Ok(own.map(|own| Settings {
        shop: hub.shop,
        guard: hub.guard,
        market: hub.market,
        ..own
    }))
}

/// How the caller is set. A browser that was never set is as the hub is, but for the name,
/// which is nobody's until it is typed; the demo's is invented.
pub(crate) fn device_settings(store: &Store) -> Result<Option<Settings>, Problem> {
    let kept = kept_settings(store)?;
    if kept.is_some() || caller().is_none() {
        return Ok(kept);
    }
    let hub: Option<Settings> = store.setting(DEVICE_SETTINGS)?;
    if super::start::is_demo(store)? {
        return Ok(hub);
    }
    Ok(hub.map(|hub| Settings {
        technician: String::new(),
        meter: None,
        ..hub
    }))
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

/// Keeps how the caller is set, and what of it is the shop's for every browser of the hub.
fn keep(store: &mut Store, chosen: &Settings) -> Result<(), Problem> {
    store.set(&own_name(DEVICE_SETTINGS), chosen)?;
    if caller().is_none() {
        return Ok(());
    }
    let hub: Option<Settings> = store.setting(DEVICE_SETTINGS)?;
    // The first browser sets the hub up; nobody's name is the hub's.
    let hub = hub.unwrap_or_else(|| Settings {
        technician: String::new(),
        meter: None,
        ..chosen.clone()
    });
    let hub = Settings {
        shop: chosen.shop.clone(),
        guard: chosen.guard,
        market: chosen.market,
        ..hub
    };
    Ok(store.set(DEVICE_SETTINGS, &hub)?)
}

/// Where the caller stood last.
pub(super) fn place(store: &Store) -> Result<Place, Problem> {
    Ok(store.setting(&own_name(PLACE))?.unwrap_or_default())
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
    keep(&mut app.store(), &settings)?;
    Ok(Reply::Settings { settings })
}

pub(super) fn keep_draft(app: &App, job: JobId, field: &str, text: &str) -> Result<Reply, Problem> {
    crate::check::text(term!("The field's name"), field, crate::check::SHORT)?;
    crate::check::text(term!("The draft"), text, MAX_DRAFT_CHARS)?;
    app.store().keep_draft(job, &own_name(field), text)?;
    Ok(Reply::Done {})
}

/// What the caller has half typed in a job, by field: of another's they see nothing.
pub(crate) fn drafts(store: &Store, job: JobId) -> Result<BTreeMap<String, String>, Problem> {
    let asks = caller();
    let own = |name: String| {
        let named = name.rsplit_once(' ');
        match named.and_then(|(field, last)| Some((field, Profile::read(last)?))) {
            Some((field, whose)) => (asks.as_ref() == Some(&whose)).then(|| field.to_owned()),
            None => asks.is_none().then_some(name),
        }
    };
    let kept = store.drafts(job)?.into_iter();
    Ok(kept
        .filter_map(|(name, text)| Some((own(name)?, text)))
        .collect())
}

pub(super) fn stand_at(app: &App, job: Option<JobId>, place: String) -> Result<Reply, Problem> {
    crate::check::text(term!("The place"), &place, crate::check::SHORT)?;
    app.store().set(&own_name(PLACE), &Place { job, place })?;
    Ok(Reply::Done {})
}
