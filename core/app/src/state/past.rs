//! Other jobs of the same car, as far as this device knows them.

use std::sync::Arc;

use swarfbook_job::fact::Car;
use swarfbook_job::id::JobId;
use swarfbook_judge::history::{Other, other, same_car};
use swarfbook_store::{JobHead, Store};

use super::fold::{Folded, Jobs, head, lock};
use crate::problem::Problem;

/// More visits than one car makes.
const VISITS: u32 = 50;

/// Other jobs of a car, by how far each had come.
#[derive(Clone)]
pub(crate) struct Past {
    heads: Vec<(JobId, JobHead)>,
    car: Car,
    others: Arc<Vec<Other>>,
}

/// Other jobs of the car of this one, in no order that matters.
///
/// # Errors
/// As the store's.
pub(crate) fn others(
    jobs: &Jobs,
    store: &Store,
    folded: &Folded,
) -> Result<Arc<Vec<Other>>, Problem> {
    let (Some(car), Some(_)) = (&folded.state.car, &folded.state.opened) else {
        return Ok(Arc::default());
    };
    let heads = heads(store, folded.state.id, car)?;
    if let Some(past) = &*lock(&folded.past)
        && past.heads == heads
        && past.car == *car
    {
        return Ok(past.others.clone());
    }
    let others = Arc::new(read(jobs, store, car, &heads)?);
    *lock(&folded.past) = Some(Past {
        heads,
        car: car.clone(),
        others: others.clone(),
    });
    Ok(others)
}

/// The greatest odometer of a car in jobs other than this one.
///
/// # Errors
/// As the store's.
pub(crate) fn last_odometer(
    jobs: &Jobs,
    store: &Store,
    this: JobId,
    car: &Car,
) -> Result<Option<f64>, Problem> {
    let heads = heads(store, this, car)?;
    let others = read(jobs, store, car, &heads)?;
    Ok(others
        .iter()
        .filter_map(|other| other.car.odometer_km)
        .reduce(f64::max))
}

fn heads(store: &Store, this: JobId, car: &Car) -> Result<Vec<(JobId, JobHead)>, Problem> {
    let found = store.jobs_of_car(car, VISITS)?;
    let others = found.into_iter().filter(|job| *job != this);
    others.map(|job| Ok((job, head(store, job)?))).collect()
}

fn read(
    jobs: &Jobs,
    store: &Store,
    car: &Car,
    heads: &[(JobId, JobHead)],
) -> Result<Vec<Other>, Problem> {
    let mut others = Vec::new();
    for (job, _) in heads {
        let folded = jobs.glanced(store, *job)?;
        others.extend(other(&folded.state).filter(|other| same_car(&other.car, car)));
    }
    Ok(others)
}
