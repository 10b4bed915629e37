//! Earlier visits of the same car, as far as this device knows them.

use chrono::{DateTime, FixedOffset};
use swarfbook_job::fact::{AnswerChoice, Car};
use swarfbook_job::fold::JobState;
use swarfbook_job::id::JobId;
use swarfbook_job::procedure::StepRole;
use swarfbook_wear::EarlierVisit;

use crate::wear;

/// An earlier visit, after which the pan was clean.
#[derive(Debug, Clone, PartialEq)]
pub struct Visit {
    /// That of the visit.
    pub job: JobId,
    /// When that was opened.
    pub at: DateTime<FixedOffset>,
    /// What was seen then.
    pub seen: EarlierVisit,
}

/// What was advised at another visit, and what the customer chose: without name or words of theirs, since the car may
/// be another's by now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chosen {
    /// When that job was opened.
    pub at: DateTime<FixedOffset>,
    /// The thing advised, in the words that were read then.
    pub item: String,
    /// What was chosen last.
    pub choice: AnswerChoice,
}

/// Another job of a car, and what it says of the visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Other {
    /// The car as it was then.
    pub car: Car,
    /// The visit, where the pan was left clean and every count was stood by: other visits say
    /// nothing of what gathered since.
    visit: Option<Visit>,
    chosen: Vec<Chosen>,
}

/// What a job says to others of its car; `None` where it names no car.
pub fn other(state: &JobState) -> Option<Other> {
    let car = state.car.clone()?;
    Some(Other {
        visit: visit(state, &car),
        chosen: chosen(state),
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

/// What was chosen at the visits before this job, the latest visit first.
pub fn chosen_before(others: &[Other], state: &JobState) -> Vec<Chosen> {
    let Some(opened) = &state.opened else {
        return Vec::new();
    };
    let all = others.iter().flat_map(|other| &other.chosen);
    let mut before: Vec<Chosen> = all.filter(|c| c.at < opened.wall).cloned().collect();
    before.sort_by_key(|c| std::cmp::Reverse(c.at));
    before
}

fn chosen(state: &JobState) -> Vec<Chosen> {
    let Some(opened) = &state.opened else {
        return Vec::new();
    };
    let mut all: Vec<Chosen> = Vec::new();
    for answer in state.answers.iter().map(|a| &a.answer) {
        match all.iter_mut().find(|c| c.item == answer.item) {
            Some(known) => known.choice = answer.choice,
            None => all.push(Chosen {
                at: opened.wall,
                item: answer.item.clone(),
                choice: answer.choice,
            }),
        }
    }
    all
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
