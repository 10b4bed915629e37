//! Earlier visits of the same car.

use super::*;

/// A photo's bytes in the store: one grey pixel.
pub(super) fn a_photo(bay: &Bay) -> Sha256Hex {
    bay.app
        .put_photo(include_bytes!("../../demo/patch-10.jpg"))
        .unwrap()
}

fn flakes(n: usize) -> Census {
    let flake = Particle {
        x_px: 10.0,
        y_px: 10.0,
        class: DebrisClass::SteelFlake,
        p: [(DebrisClass::SteelFlake, 1.0)].into(),
        feret_max_mm: 0.7,
        feret_max_lo: 0.69,
        feret_max_hi: 0.71,
        feret_min_mm: 0.5,
        area_mm2: 0.3,
        iso16232: SizeClass::J,
        outline_px: vec![[0.0, 0.0], [9.0, 0.0], [9.0, 9.0]],
        real: None,
    };
    Census {
        kind: PhotoKind::Patch,
        size_px: Some([400, 300]),
        problem: None,
        limits: vec![],
        card: None,
        scale: Some(Scale {
            px_per_mm: 20.0,
            u_rel: 0.004,
            from: ScaleFrom::Card,
        }),
        smallest_mm: Some(0.3),
        searched_cm2: Some(100.0),
        particles: vec![flake; n],
        counts: [].into(),
        magnet: None,
        fluid: None,
        unusual: None,
        doubt: None,
        calibration: None,
        lens: None,
    }
}

/// A whole visit: car, patch with so many flakes, counted and confirmed, pan clean.
pub(super) fn visit(
    bay: &Bay,
    odometer_km: f64,
    changed: Option<f64>,
    n: usize,
    cleaned: bool,
) -> JobId {
    let job = bay.new_job();
    bay.write_to(job, car(odometer_km, changed));
    let photo = bay.append(
        job,
        Fact::PhotoTaken {
            step: "patch".into(),
            photo: a_photo(bay),
            subject: PhotoSubject::Patch,
        },
    );
    bay.append(
        job,
        Fact::CensusMade {
            photo,
            census: flakes(n),
        },
    );
    bay.append(job, Fact::CensusConfirmed { photo });
    if cleaned {
        bay.append(
            job,
            Fact::StepTicked {
                step: "pan-clean".into(),
            },
        );
    }
    job
}

/// 15 in 10,000 km against 5 in 20,000 km: one-sided p = 0.000167, ratio 6 (scipy
/// 1.17 `binomtest`; statsmodels 0.15 `test_poisson_2indep`).
#[test]
fn an_earlier_visit_of_the_same_car_makes_a_trend() {
    let bay = by_hours();
    let first = visit(&bay, 80_000.0, Some(60_000.0), 5, true);
    let second = visit(&bay, 90_000.0, Some(60_000.0), 15, true);
    assert!(
        bay.view_of(first).wear.unwrap().trend.is_none(),
        "nothing before it"
    );
    let wear = bay.view_of(second).wear.unwrap();
    let trend = wear.trend.unwrap();
    assert!(
        trend
            .words
            .starts_with("More than before: 15 pieces in 10,000 km, against 5 pieces in 20,000 km"),
        "{}",
        trend.words
    );
    assert!(trend.words.contains("6 times as many"), "{}", trend.words);
    assert!(
        wear.advice_reasons
            .iter()
            .any(|r| r.contains("More than before"))
    );
    assert_eq!(trend.visits.len(), 2);
    assert_eq!(
        (trend.visits[0].job, trend.visits[1].job),
        (Some(first), None)
    );
    assert_eq!(trend.visits[0].per_10000_km, Some(2.5));
    assert_eq!(trend.visits[1].per_10000_km, Some(15.0));
}

#[test]
fn the_report_draws_the_visits_beside_each_other() {
    let bay = by_hours();
    visit(&bay, 80_000.0, Some(60_000.0), 5, true);
    let second = visit(&bay, 90_000.0, Some(60_000.0), 15, true);
    let html = bay.preview_of(second, None);
    let drawn = html.split("<svg class=\"trend\"").nth(1).unwrap();
    let drawn = drawn.split("</svg>").next().unwrap();
    // Garwood at 90 % for 5 and 15 pieces (scipy 1.17 `chi2.ppf`: 1.970 to 10.513, 9.246 to 23.097),
    // in 20,000 and 10,000 km, rounded outwards to what a count of debris is worth.
    assert!(drawn.contains(": 2.5, likely 0.9 to 5.3."), "{drawn}");
    assert!(drawn.contains(": 15, likely 9.2 to 24."), "{drawn}");
    assert!(drawn.contains(">this visit</text>"), "{drawn}");
}

#[test]
fn visits_that_left_debris_or_belong_to_another_car_are_no_trend() {
    let bay = by_hours();
    visit(&bay, 80_000.0, Some(60_000.0), 5, false);
    let other = bay.new_job();
    bay.write_to(other, car(85_000.0, None));
    let later = visit(&bay, 90_000.0, Some(60_000.0), 15, true);
    assert!(bay.view_of(later).wear.unwrap().trend.is_none());
}
