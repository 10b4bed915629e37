//! Visits of one car.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use common::{patch, piece};
use swarfbook_job::census::DebrisClass;
use swarfbook_wear::stats::compare_counts;
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
    let now = with_magnet(visit("now", 90_000.0, 10_000.0, 3), 40);
    let got = of(&now, &[with_magnet(then, 1)]);
    assert!(got.magnets);
    let change = got.change.unwrap();
    assert_eq!((change.n_now, change.n_before), (43, 4));
    assert_eq!(change.verdict, ChangeVerdict::MoreThanBefore);
}

/// Each of many classes must be clearer than one alone (Bonferroni).
#[test]
fn many_classes_are_called_more_carefully() {
    // 60 against 6 in the same distance: z = ln(10) / sqrt(1/60 + 1/6 + 2 trigamma(4)) = 2.69,
    // one-sided p = 0.0036: below 2.5 % of two classes; of eight it is not.
    let alone = of(
        &visit("now", 2.0, 10_000.0, 60),
        &[visit("then", 1.0, 10_000.0, 6)],
    );
    let verdict = |trend: &Trend| {
        let class = trend.by_class.iter().find(|each| each.class == FLAKE);
        class.unwrap().change.verdict
    };
    assert_eq!(verdict(&alone), ChangeVerdict::MoreThanBefore);
    let mut now = visit("now", 2.0, 10_000.0, 60);
    now.photos[0].particles.extend(
        DebrisClass::ALL
            .into_iter()
            .filter(|class| *class != FLAKE)
            .map(|class| piece(class, 1.0)),
    );
    let eight = of(&now, &[visit("then", 1.0, 10_000.0, 6)]);
    assert_eq!(verdict(&eight), ChangeVerdict::NoClearChange);
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

/// Steele, Lea and Flood's SplitMix64 (2014): small, and the same everywhere.
struct Draws(u64);

impl Draws {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn exponential(&mut self) -> f64 {
        -(1.0 - self.uniform()).ln()
    }

    fn poisson(&mut self, mean: f64) -> usize {
        let (mut left, mut n) = (mean, 0);
        loop {
            left -= self.exponential();
            if left < 0.0 {
                return n;
            }
            n += 1;
        }
    }

    /// Gamma of mean 1 that scatters by half: four exponentials together.
    fn scatter(&mut self) -> f64 {
        (0..4).map(|_| self.exponential()).sum::<f64>() / 4.0
    }
}

/// Two visits of one unchanged car with a mean of 30 pieces: how often a change is called that is
/// none. Before, both directions at 5 %, areas left out and all scatter taken for Poisson's, it
/// was 7.5 % (Poisson alone), 19.5 % (areas of 60 to 120 cm2) and 55 % (visits scatter by half);
/// those figures are reproduced here by the same rule, and the rule of today is held to 5 %.
#[test]
fn a_change_that_is_none_is_called_in_five_of_a_hundred_at_most() {
    const TRIALS: usize = 3_000;
    let mut draws = Draws(20_261_129);
    for (what, areas, scatters, before) in [
        ("Poisson alone", false, false, 0.075),
        ("areas of 60 to 120 cm2", true, false, 0.195),
        ("visits scatter by half", false, true, 0.55),
        ("both", true, true, 0.55),
    ] {
        let (mut old, mut new) = (0, 0);
        for _ in 0..TRIALS {
            let mut one = |id: &str, at: f64| {
                let cm2 = if areas {
                    60.0 + 60.0 * draws.uniform()
                } else {
                    90.0
                };
                let rate = if scatters { draws.scatter() } else { 1.0 };
                let n = draws.poisson(30.0 * rate * cm2 / 90.0);
                let mut visit = visit(id, at, 20_000.0, n);
                visit.photos[0].searched_cm2 = Some(cm2);
                visit
            };
            let (now, then) = (one("now", 90_000.0), one("then", 70_000.0));
            let n = |visit: &Visit| u32::try_from(visit.photos[0].particles.len()).unwrap();
            if let Some(test) = compare_counts(n(&now), 1.0, n(&then), 1.0, 0.90) {
                old += usize::from(test.p_greater < 0.05 || test.p_less < 0.05);
            }
            let change = of(&now, &[then]).change;
            let called = change.is_some_and(|c| c.verdict != ChangeVerdict::NoClearChange);
            new += usize::from(called);
        }
        let share = |n: usize| n as f64 / TRIALS as f64;
        println!("{what}: {:.3} before, {:.3} now", share(old), share(new));
        assert!((share(old) - before).abs() < 0.06, "{what}: {}", share(old));
        assert!(share(new) <= 0.055, "{what}: {}", share(new));
    }
}

/// Twice the area with twice the pieces is no change; the same pieces on a third of it are more.
#[test]
fn the_area_searched_is_counted_in() {
    let on = |id: &str, at: f64, n: usize, cm2: Option<f64>| {
        let mut visit = visit(id, at, 20_000.0, n);
        visit.photos[0].searched_cm2 = cm2;
        visit
    };
    let now = on("now", 90_000.0, 60, Some(120.0));
    let got = of(&now, &[on("then", 70_000.0, 30, Some(60.0))]);
    assert!(got.areas);
    assert_eq!(got.change.as_ref().unwrap().test.ratio, Some(1.0));
    // Its rate is that on the area of this visit: 30 pieces on half of it are 60.
    assert_eq!(got.visits[0].wear.per_10000_km, Some(30.0));
    let got = of(&now, &[on("then", 70_000.0, 30, None)]);
    assert!(!got.areas, "an area that nobody tells can't be counted in");
    assert_eq!(got.change.unwrap().test.ratio, Some(2.0));
}
