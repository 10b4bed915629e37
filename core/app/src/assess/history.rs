//! Earlier visits of the same car, as far as this device knows them.

use std::collections::BTreeSet;

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::Car;
use swarfbook_job::fold::{JobState, Mark};
use swarfbook_job::id::JobId;
use swarfbook_store::Store;
use swarfbook_wear::EarlierVisit;

use super::wear;
use crate::problem::Problem;

/// More visits than one car makes.
const VISITS: u32 = 50;
/// The step after which a pan counts as clean.
const CLEANED: &str = "pan-clean";

/// An earlier visit, after which the pan was clean.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Visit {
    /// Its job.
    pub job: JobId,
    /// When that was opened.
    pub at: DateTime<FixedOffset>,
    /// What was seen then.
    pub seen: EarlierVisit,
}

/// Other jobs of the same car, in no order that matters.
pub(crate) fn other_jobs(store: &Store, this: JobId, car: &Car) -> Result<Vec<JobState>, Problem> {
    let mut known = BTreeSet::from([this]);
    let mut found = Vec::new();
    for search in [Some(car.plate.trim()), car.vin.as_deref()] {
        let Some(search) = search.filter(|s| !s.is_empty()) else {
            continue;
        };
        for row in store.jobs(search, 0, VISITS)?.rows {
            if !known.insert(row.job) {
                continue;
            }
            let state = crate::serve::fold_of(store, row.job)?;
            if state.car.as_ref().is_some_and(|other| same_car(other, car)) {
                found.push(state);
            }
        }
    }
    Ok(found)
}

/// Visits before this job that read the pan, stood by every count, and left
/// the pan clean: others say nothing of what gathered since.
pub(crate) fn earlier(store: &Store, state: &JobState) -> Result<Vec<Visit>, Problem> {
    let (Some(car), Some(opened)) = (&state.car, &state.opened) else {
        return Ok(Vec::new());
    };
    Ok(other_jobs(store, state.id, car)?
        .iter()
        .filter_map(|other| visit(other, opened.wall, car.odometer_km))
        .collect())
}

fn visit(
    other: &JobState,
    before: DateTime<FixedOffset>,
    odometer_km: Option<f64>,
) -> Option<Visit> {
    let at = other.opened.as_ref()?.wall;
    let car = other.car.as_ref()?;
    let cleaned = other.steps.get(CLEANED)?.mark == Mark::Ticked;
    // An instrument that was changed since can't be reckoned with.
    let forward = match (car.odometer_km, odometer_km) {
        (Some(then), Some(now)) => then <= now,
        _ => true,
    };
    let unread = |p: &&swarfbook_job::fold::PhotoState| {
        p.census.as_ref().is_some_and(|c| c.problem.is_none()) && p.confirmed.is_none()
    };
    if at >= before || !cleaned || !forward || other.photos.iter().any(|p| unread(&p)) {
        return None;
    }
    Some(Visit {
        job: other.id,
        at,
        seen: EarlierVisit {
            id: other.id.to_string(),
            odometer_km: car.odometer_km,
            km_since_clean: car
                .odometer_km
                .zip(car.fluid_changed_at_km)
                .map(|(now, changed)| now - changed),
            photos: wear::photos(other),
        },
    })
}

fn same_car(a: &Car, b: &Car) -> bool {
    match (&a.vin, &b.vin) {
        (Some(a), Some(b)) => a.eq_ignore_ascii_case(b),
        _ => !a.plate.trim().is_empty() && a.plate.trim().eq_ignore_ascii_case(b.plate.trim()),
    }
}
