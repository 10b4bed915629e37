//! Earlier visits of the same car, as far as this device knows them.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::Car;
use swarfbook_job::fold::JobState;
use swarfbook_job::id::JobId;
use swarfbook_job::procedure::StepRole;
use swarfbook_wear::EarlierVisit;

use crate::wear;

/// An earlier visit, after which the pan was clean.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// Its job.
    pub job: JobId,
    /// When that was opened.
    pub at: DateTime<FixedOffset>,
    /// What was seen then.
    pub seen: EarlierVisit,
}

/// Another job of a car, and what it says of the visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Other {
    /// The car as it was then.
    pub car: Car,
    /// The visit, where the pan was left clean and every count was stood by: other visits say
    /// nothing of what gathered since.
    visit: Option<Visit>,
}

/// What a job says to others of its car; `None` where it names no car.
pub fn other(state: &JobState) -> Option<Other> {
    let car = state.car.clone()?;
    Some(Other {
        visit: visit(state, &car),
        car,
    })
}

/// The visits before this job that can be held against it.
pub fn earlier(others: &[Other], state: &JobState) -> Vec<Visit> {
    let (Some(car), Some(opened)) = (&state.car, &state.opened) else {
        return Vec::new();
    };
    // An instrument that was changed since can't be reckoned with.
    let forward = |then: &Car| match (then.odometer_km, car.odometer_km) {
        (Some(then), Some(now)) => then <= now,
        _ => true,
    };
    let visits = others.iter().filter(|other| forward(&other.car));
    visits
        .filter_map(|other| other.visit.clone())
        .filter(|visit| visit.at < opened.wall)
        .collect()
}

fn visit(state: &JobState, car: &Car) -> Option<Visit> {
    let at = state.opened.as_ref()?.wall;
    let cleaned = state.is_ticked(StepRole::PanClean);
    let unread = |p: &&swarfbook_job::fold::PhotoState| {
        p.census.as_ref().is_some_and(|c| c.problem.is_none()) && p.confirmed.is_none()
    };
    if !cleaned || state.photos.iter().any(|p| unread(&p)) {
        return None;
    }
    Some(Visit {
        job: state.id,
        at,
        seen: EarlierVisit {
            id: state.id.to_string(),
            odometer_km: car.odometer_km,
            km_since_clean: car
                .odometer_km
                .zip(car.fluid_changed_at_km)
                .map(|(now, changed)| now - changed),
            photos: wear::photos(state),
        },
    })
}

/// The same car: by VIN where both are known, else by plate.
pub fn same_car(a: &Car, b: &Car) -> bool {
    match (&a.vin, &b.vin) {
        (Some(a), Some(b)) => a.eq_ignore_ascii_case(b),
        _ => !a.plate.trim().is_empty() && a.plate.trim().eq_ignore_ascii_case(b.plate.trim()),
    }
}
