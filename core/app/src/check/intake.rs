//! The car, the complaint, the codes, the go-ahead.

use swarfbook_job::fact::{Car, CodeSeen, Complaint, Cost, GoAhead, Money};
use swarfbook_job::procedure::{Choice, Evidence};
use swarfbook_measure::unit::Quantity;
use swarfbook_measure::vin::Vin;
use swarfbook_store::Store;
use swarfbook_words::{say, term};

use super::{LONG, SHORT, quantity, text, wanted_text};
use crate::present::distance_words;
use crate::problem::{Problem, ProblemKind};
use crate::state::App;
use crate::state::settings::market;
use crate::state::{Loaded, last_odometer};

/// More than any car has driven.
const MAX_KM: f64 = 5_000_000.0;

pub(super) fn car(
    app: &App,
    store: &Store,
    loaded: &Loaded,
    car: &Car,
    sure: bool,
) -> Result<(), Problem> {
    text(term!("the-plate"), &car.plate, SHORT)?;
    text(term!("the-description"), &car.description, SHORT)?;
    if car.plate.trim().is_empty() && car.vin.is_none() {
        return Err(Problem::bad_input(
            say!("the-car-has-neither-plate-nor-vin"),
            say!("type-or-scan-one-of-them"),
        ));
    }
    if let Some(vin) = &car.vin {
        let vin = vin.parse::<Vin>().map_err(|why| {
            Problem::bad_input(why.to_string(), say!("read-it-again-from-the-car"))
        })?;
        let digit = vin.check_digit(market(store)?);
        // Only where the law asks for it does a wrong digit mean a wrong number.
        if let (false, true, Some(ask)) = (sure, digit.mandatory, digit.ask) {
            return Err(Problem::new(
                ProblemKind::Doubtful,
                ask,
                say!("if-the-car-says-so-all-the-same"),
            ));
        }
    }
    let units = loaded.units;
    let distance =
        |what: &str, km: f64| quantity(what, km, [0.0, MAX_KM], Quantity::Distance, units);
    let words = |km: f64| distance_words(km, units);
    if let Some(km) = car.odometer_km {
        distance(term!("the-odometer"), km)?;
    }
    if let Some(km) = car.fluid_changed_at_km {
        distance(term!("the-last-fluid-change"), km)?;
        if car.odometer_km.is_some_and(|now| km > now) {
            return Err(Problem::bad_input(
                say!(
                    "the-fluid-cant-have-been-changed-at-words",
                    words = words(km),
                    words_2 = words(car.odometer_km.unwrap_or_default())
                ),
                say!("look-at-both-numbers-again"),
            ));
        }
    }
    if let Some(km) = car.gearbox.unit_at_km {
        distance(term!("where-the-gearbox-went-in"), km)?;
        if car.odometer_km.is_some_and(|now| km > now) {
            return Err(Problem::bad_input(
                say!(
                    "the-gearbox-cant-have-gone-in-at-words",
                    words = words(km),
                    words_2 = words(car.odometer_km.unwrap_or_default())
                ),
                say!("look-at-both-numbers-again"),
            ));
        }
    }
    if !sure
        && let (Some(now), Some(before)) = (
            car.odometer_km,
            last_odometer(app.jobs(), store, loaded.state.id, car)?,
        )
        && now < before
    {
        return Err(Problem::new(
            ProblemKind::Doubtful,
            say!(
                "the-odometer-shows-words-but-this-car-was",
                words = words(now),
                words_2 = words(before)
            ),
            say!("read-it-again-if-it-is-right-another"),
        ));
    }
    Ok(())
}

pub(super) fn complaint(loaded: &Loaded, complaint: &Complaint) -> Result<(), Problem> {
    wanted_text(term!("the-complaint"), &complaint.words, LONG)?;
    let offered = loaded.procedure.steps().find_map(|(_, step)| {
        step.evidence.iter().find_map(|want| match &want.evidence {
            Evidence::Complaint { when, symptoms } => Some((when, symptoms)),
            _ => None,
        })
    });
    let (when, symptoms) = offered.map_or((&[][..], &[][..]), |(w, s)| (w, s));
    let among = |choices: &[Choice], id: &String| choices.iter().any(|c| c.id == *id);
    let stray = complaint
        .when
        .iter()
        .find(|id| !among(when, id))
        .or_else(|| complaint.symptoms.iter().find(|id| !among(symptoms, id)));
    match stray {
        Some(id) => Err(Problem::bad_input(
            say!("id-is-none-of-the-answers-that-this", id = id),
            say!("choose-one-that-is-offered-or-write-it"),
        )),
        None => Ok(()),
    }
}

pub(super) fn codes(codes: &[CodeSeen]) -> Result<(), Problem> {
    for (index, seen) in codes.iter().enumerate() {
        super::bench::code(&seen.code)?;
        if codes.iter().take(index).any(|c| c.code == seen.code) {
            return Err(Problem::bad_input(
                say!("the-code-code-stands-there-twice", code = seen.code),
                say!("take-one-away-stored-counts-before-pending"),
            ));
        }
    }
    Ok(())
}

pub(super) fn go_ahead(go_ahead: &GoAhead) -> Result<(), Problem> {
    wanted_text(term!("who-agreed"), &go_ahead.by, SHORT)?;
    go_ahead.limit.as_ref().map_or(Ok(()), money)
}

pub(super) fn cost(cost: &Cost) -> Result<(), Problem> {
    text(term!("what-is-added-to-the-price"), &cost.text, SHORT)?;
    cost.amount.as_ref().map_or(Ok(()), money)
}

fn money(money: &Money) -> Result<(), Problem> {
    let currency = &money.currency;
    if currency.len() == 3 && currency.bytes().all(|b| b.is_ascii_uppercase()) {
        return Ok(());
    }
    Err(Problem::bad_input(
        say!("currency-is-no-currency", currency = currency),
        say!("use-three-letters-for-instance-eur-iso-4217"),
    ))
}
