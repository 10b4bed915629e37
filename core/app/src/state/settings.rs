//! How this device is set, what is half typed, where the technician stands: as it is kept.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::Tools;
use swarfbook_job::id::JobId;
use swarfbook_measure::unit::Units;
use swarfbook_measure::vin::Market;
use swarfbook_store::Store;

use crate::caller::{Profile, caller};
use crate::problem::Problem;
use crate::settings::Settings;

/// Where the technician stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Place {
    pub job: Option<JobId>,
    pub place: String,
}

/// The name that a place is kept under.
pub(crate) const PLACE: &str = "place";

/// The name that this device's settings are kept under.
pub(crate) const DEVICE_SETTINGS: &str = "device_settings";

/// The name that something of the caller's own is kept under.
pub(crate) fn own_name(what: &str) -> String {
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
        address: hub.address,
        telephone: hub.telephone,
        guard: hub.guard,
        market: hub.market,
        calibrated: hub.calibrated,
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
    if is_demo(store)? {
        return Ok(hub);
    }
    Ok(hub.map(|hub| Settings {
        technician: String::new(),
        meter: None,
        tools: Tools::default(),
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

/// Where the caller stood last.
pub(crate) fn place(store: &Store) -> Result<Place, Problem> {
    Ok(store.setting(&own_name(PLACE))?.unwrap_or_default())
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

/// The name of the setting that says so.
pub(crate) const DEMO: &str = "demo";

/// Whether the store was filled with the invented demo shop.
pub(crate) fn is_demo(store: &Store) -> Result<bool, Problem> {
    Ok(store.setting(DEMO)?.unwrap_or(false))
}
