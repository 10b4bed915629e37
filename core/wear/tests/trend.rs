//! Visits of one car.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use common::{patch, piece};
use swarfbook_job::census::DebrisClass;
use swarfbook_wear::{
    Advice, ChangeVerdict, EarlierVisit, Evidence, HazardTable, Rule, Trend, Visit, assess, trend,
};

const FLAKE: DebrisClass = DebrisClass::SteelFlake;

fn visit(id: &str, odometer_km: f64, km: f64, n: usize) -> Visit {
    Visit {
        id: id.to_owned(),
        odometer_km: Some(odometer_km),
        km,
        photos: vec![patch(vec![piece(FLAKE, 0.7); n])],
    }
}

fn of(now: &Visit, earlier: &[Visit]) -> Trend {
    trend(now, earlier).unwrap().unwrap()
}

/// 15 in 10,000 km against 5 in 20,000 km: p = 0.000167, by scipy 1.17
/// `binomtest` and statsmodels 0.15 `test_poisson_2indep(method='exact-cond')`.
#[test]
fn more_than_before_is_called() {
    let got = of(
        &visit("now", 90_000.0, 10_000.0, 15),
        &[visit("then", 80_000.0, 20_000.0, 5)],
    );
    let change = got.change.unwrap();
    assert_eq!(change.verdict, ChangeVerdict::MoreThanBefore);
    assert!((change.test.p_greater - 0.000167).abs() < 6e-7);
    assert_eq!(change.test.ratio, Some(6.0));
    assert_eq!(
        change.words,
        "More than before: 15 pieces in 10,000 km, against 5 pieces in 20,000 km at earlier visits."
    );
    assert_eq!(got.by_class[0].class, FLAKE);
}

/// 12 in 20,000 km against 4 in 10,000 km: one-sided p = 0.339, same source.
#[test]
fn what_chance_shows_too_is_no_change() {
    let got = of(
        &visit("now", 90_000.0, 20_000.0, 12),
        &[visit("then", 70_000.0, 10_000.0, 4)],
    );
    let change = got.change.unwrap();
    assert_eq!(change.verdict, ChangeVerdict::NoClearChange);
    assert!((change.test.p_greater - 0.339123).abs() < 6e-7);
}

#[test]
fn less_than_before_is_called_too() {
    let got = of(
        &visit("now", 90_000.0, 20_000.0, 5),
        &[visit("then", 70_000.0, 10_000.0, 15)],
    );
    assert_eq!(got.change.unwrap().verdict, ChangeVerdict::LessThanBefore);
}

/// 10 pieces: 90 % Garwood 5.4254 to 16.9622 (scipy 1.17), here in 20,000 km.
#[test]
fn rates_carry_garwood_intervals() {
    let got = of(
        &visit("now", 90_000.0, 20_000.0, 10),
        &[visit("then", 70_000.0, 10_000.0, 0)],
    );
    let now = got.visits.last().unwrap();
    assert_eq!(now.wear.per_10000_km, Some(5.0));
    assert!((now.wear.lo.unwrap() - 5.4254 / 2.0).abs() < 1e-4);
    assert!((now.wear.hi.unwrap() - 16.9622 / 2.0).abs() < 1e-4);
    let then = &got.visits[0];
    assert_eq!((then.wear.n, then.wear.lo), (0, Some(0.0)));
    assert_eq!(then.by_class[&FLAKE].n, 0);
}

#[test]
fn visits_are_listed_by_odometer_and_pooled_in_any_order() {
    let earlier = [
        visit("b", 60_000.0, 20_000.0, 2),
        visit("c", 75_000.0, 15_000.0, 3),
        visit("a", 40_000.0, 40_000.0, 4),
    ];
    let now = visit("now", 90_000.0, 15_000.0, 6);
    let got = of(&now, &earlier);
    let ids: Vec<&str> = got.visits.iter().map(|visit| visit.id.as_str()).collect();
    assert_eq!(ids, ["a", "b", "c", "now"]);
    let change = got.change.as_ref().unwrap();
    assert_eq!((change.n_before, change.km_before), (9, 75_000.0));
    let mut turned = earlier.to_vec();
    turned.reverse();
    assert_eq!(of(&now, &turned), got);
}

/// A sharper photo sees more; only what all photos could show is compared.
#[test]
fn only_what_every_photo_shows_is_compared() {
    let mut now = visit("now", 90_000.0, 10_000.0, 3);
    now.photos[0].smallest_mm = Some(0.2);
    now.photos[0].particles.extend(vec![piece(FLAKE, 0.3); 40]);
    let mut then = visit("then", 80_000.0, 10_000.0, 3);
    then.photos[0].smallest_mm = Some(0.5);
    let got = of(&now, &[then]);
    assert_eq!(got.floor_mm, 0.5);
    let change = got.change.unwrap();
    assert_eq!((change.n_now, change.n_before), (3, 3));
}

/// A magnet that was photographed only this time would look like new debris.
#[test]
fn magnets_are_compared_only_where_every_visit_shows_one() {
    let with_magnet = |mut visit: Visit, n: usize| {
        let mut magnet = patch(vec![piece(FLAKE, 0.7); n]);
        magnet.kind = swarfbook_job::census::PhotoKind::Magnet;
        visit.photos.push(magnet);
        visit
    };
    let now = with_magnet(visit("now", 90_000.0, 10_000.0, 3), 20);
    let then = visit("then", 80_000.0, 10_000.0, 3);
    let got = of(&now, std::slice::from_ref(&then));
    assert!(!got.magnets);
    assert_eq!(got.change.unwrap().verdict, ChangeVerdict::NoClearChange);
    let got = of(&now, &[with_magnet(then, 1)]);
    assert!(got.magnets);
    let change = got.change.unwrap();
    assert_eq!((change.n_now, change.n_before), (23, 4));
    assert_eq!(change.verdict, ChangeVerdict::MoreThanBefore);
}

/// Each of many classes must be clearer than one alone (Bonferroni).
#[test]
fn many_classes_are_called_more_carefully() {
    // One-sided p = 0.031250 (scipy): below 5 %, above 5 % of two classes.
    let alone = of(
        &visit("now", 2.0, 10_000.0, 5),
        &[visit("then", 1.0, 10_000.0, 0)],
    );
    let verdict = |trend: &Trend| {
        let class = trend.by_class.iter().find(|each| each.class == FLAKE);
        class.unwrap().change.verdict
    };
    assert_eq!(verdict(&alone), ChangeVerdict::MoreThanBefore);
    let mut now = visit("now", 2.0, 10_000.0, 5);
    now.photos[0]
        .particles
        .push(piece(DebrisClass::Plastic, 1.0));
    let two = of(&now, &[visit("then", 1.0, 10_000.0, 0)]);
    assert_eq!(verdict(&two), ChangeVerdict::NoClearChange);
}

#[test]
fn grit_sealant_and_lint_are_no_wear() {
    let mut now = visit("now", 90_000.0, 10_000.0, 0);
    for class in [DebrisClass::Grit, DebrisClass::Elastomer, DebrisClass::Lint] {
        now.photos[0].particles.extend(vec![piece(class, 0.7); 20]);
    }
    let got = of(&now, &[visit("then", 80_000.0, 10_000.0, 0)]);
    assert_eq!(got.change, None);
    assert!(
        got.by_class
            .iter()
            .all(|each| each.class != DebrisClass::Lint)
    );
}

#[test]
fn a_visit_without_photos_says_nothing() {
    let mut blind = visit("then", 80_000.0, 10_000.0, 0);
    blind.photos.clear();
    let now = visit("now", 90_000.0, 10_000.0, 9);
    assert_eq!(trend(&now, &[blind.clone()]).unwrap(), None);
    assert_eq!(trend(&blind, &[now]).unwrap(), None);
}

/// Seven pieces in 10,000 km after two in 60,000: Watch, though the band is mild.
#[test]
fn a_rise_shortens_the_way_to_the_next_look() {
    let light = DebrisClass::LightMetal;
    let evidence = Evidence {
        photos: vec![patch(vec![piece(light, 0.3); 7])],
        odometer_km: Some(90_000.0),
        earlier: vec![
            EarlierVisit {
                id: "first".to_owned(),
                odometer_km: Some(20_000.0),
                km_since_clean: Some(20_000.0),
                photos: vec![patch(vec![piece(light, 0.3); 1])],
            },
            EarlierVisit {
                id: "second".to_owned(),
                odometer_km: Some(80_000.0),
                km_since_clean: None,
                photos: vec![patch(vec![piece(light, 0.3); 2])],
            },
        ],
        ..Evidence::default()
    };
    let got = assess(&evidence, &HazardTable::built_in().unwrap()).unwrap();
    assert_eq!(got.exposure.km, 10_000.0);
    let trend = got.trend.as_ref().unwrap();
    assert_eq!(trend.visits[1].km, 60_000.0);
    let change = trend.change.as_ref().unwrap();
    assert_eq!(change.verdict, ChangeVerdict::MoreThanBefore);
    assert!(
        got.advice
            .rules
            .iter()
            .any(|rule| rule.rule == Rule::Rising)
    );
    assert_eq!(got.advice.advised, Advice::Watch { after_km: 3_000.0 });
}
