//! Advice, overruling, and evidence that can't be.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use common::{observed, pan_of, piece};
use swarfbook_job::census::DebrisClass;
use swarfbook_job::fact::AdviceChoice;
use swarfbook_wear::{
    Advice, Band, EarlierVisit, Evidence, FluidLook, HazardTable, NextTest, Observation, Overrule,
    Rule, Smell, WearProblem, assess,
};

fn table() -> HazardTable {
    HazardTable::built_in().unwrap()
}

fn heavy() -> Evidence {
    pan_of(60_000.0, vec![piece(DebrisClass::SteelFlake, 0.7); 12])
}

fn overrule(chosen: AdviceChoice, after_km: Option<f64>, reason: &str) -> Overrule {
    Overrule {
        id: "decided".to_owned(),
        chosen,
        after_km,
        reason: reason.to_owned(),
    }
}

#[test]
fn an_overruled_advice_is_kept_beside_the_decision() {
    let why = "The customer knows the box and drives it to the scrapyard himself.";
    let mut evidence = heavy();
    evidence.overrule = Some(overrule(AdviceChoice::CarryOn, None, why));
    let got = assess(&evidence, &table()).unwrap();
    assert_eq!(got.advice.advised, Advice::OpenUp);
    assert_eq!(got.advice.stands, Advice::CarryOn);
    assert_eq!(got.advice.overrule.unwrap().reason, why);
    assert_eq!(got.advice.rules[0].advice, Advice::OpenUp);
    // The decision is the technician's; the score stays what it was.
    assert_eq!(got.score, assess(&heavy(), &table()).unwrap().score);
}

#[test]
fn a_decision_to_watch_has_a_distance() {
    let stands = |after_km| {
        let mut evidence = heavy();
        evidence.overrule = Some(overrule(AdviceChoice::Watch, after_km, "few km a year"));
        assess(&evidence, &table()).unwrap().advice.stands
    };
    assert_eq!(stands(Some(800.0)), Advice::Watch { after_km: 800.0 });
    let Advice::Watch { after_km } = stands(None) else {
        panic!("not Watch");
    };
    assert!(after_km > 0.0);
}

#[test]
fn overruling_needs_a_reason() {
    let mut evidence = heavy();
    evidence.overrule = Some(overrule(AdviceChoice::CarryOn, None, "  "));
    let refused = assess(&evidence, &table());
    assert_eq!(refused, Err(WearProblem::OverruleWithoutReason));
}

#[test]
fn every_advice_has_a_reason_and_the_gravest_stands_first() {
    let mut evidence = heavy();
    let smell = Smell::Burnt;
    evidence
        .observations
        .push(observed("nose", Observation::Smell { smell }));
    for look in [FluidLook::Milky, FluidLook::Foamy] {
        evidence
            .observations
            .push(observed("eye", Observation::Fluid { look }));
    }
    let got = assess(&evidence, &table()).unwrap();
    let ranks: Vec<_> = got
        .advice
        .rules
        .iter()
        .map(|rule| rule.advice.choice())
        .collect();
    assert!(ranks.windows(2).all(|pair| pair[0] >= pair[1]), "{ranks:?}");
    assert!(got.advice.rules.iter().all(|rule| !rule.words.is_empty()));
    assert!(got.advice.rules.iter().any(|rule| rule.rule == Rule::Milky));
    let mut once = got.advice.tests.clone();
    once.dedup();
    assert_eq!(once, got.advice.tests, "each test once");
    assert_eq!(got.advice.advised, Advice::OpenUp);
}

#[test]
fn the_shorter_distance_wins() {
    let look = FluidLook::Foamy;
    let mut evidence = pan_of(60_000.0, vec![piece(DebrisClass::SteelFlake, 0.7); 5]);
    evidence
        .observations
        .push(observed("eye", Observation::Fluid { look }));
    let got = assess(&evidence, &table()).unwrap();
    assert_eq!(got.band, Band::Active);
    assert_eq!(got.advice.advised, Advice::Watch { after_km: 500.0 });
    assert_eq!(
        got.advice.advised.words(),
        "Watch: finish the work, and look into the pan again after 500 km."
    );
}

#[test]
fn an_unread_pan_is_not_a_clean_pan() {
    let refused = assess(&Evidence::default(), &table());
    assert_eq!(refused, Err(WearProblem::NothingLookedAt));
}

#[test]
fn what_can_not_be_is_asked_back() {
    type Spoil = fn(&mut Evidence);
    let spoil: [(&str, Spoil); 9] = [
        ("-1", |e| e.km_since_clean = Some(-1.0)),
        ("NaN", |e| e.km_since_clean = Some(f64::NAN)),
        ("inf", |e| e.odometer_km = Some(f64::INFINITY)),
        ("-3", |e| e.photos[0].searched_cm2 = Some(-3.0)),
        ("1.2", |e| e.photos[0].cover = Some(common::cover(1.2))),
        ("1.5", |e| {
            e.photos[0].particles[0].p.insert(DebrisClass::Lint, 1.5);
        }),
        ("-0.5", |e| {
            e.photos[0].particles[0].feret_max.as_mut().unwrap().mm = -0.5;
        }),
        ("0.7 mm in 0.9", |e| {
            e.photos[0].particles[0].feret_max.as_mut().unwrap().lo = 0.9;
        }),
        ("less than the 90000 km", |e| {
            e.odometer_km = Some(80_000.0);
            e.earlier.push(EarlierVisit {
                id: "last".to_owned(),
                odometer_km: Some(90_000.0),
                km_since_clean: None,
                photos: Vec::new(),
            });
        }),
    ];
    for (said, spoil) in spoil {
        let mut evidence = heavy();
        spoil(&mut evidence);
        let problem = assess(&evidence, &table()).unwrap_err().to_string();
        assert!(problem.contains(said), "{problem}");
    }
}

#[test]
fn a_table_that_breaks_a_promise_is_refused() {
    let text = include_str!("../data/hazard-3.toml");
    assert!(HazardTable::from_toml(text).is_ok());
    let with_lint = format!(
        "{text}\n[[debris]]\nclass = \"lint\"\nfrom_mm = 0.0\nk = 0.1\nprovenance = \"none\"\n"
    );
    for spoilt in [
        with_lint,
        text.replace("from = 55.0", "from = 95.0"),
        text.replace("k = 1.6", "k = 0.1"),
        text.replace("least = 0.5", "least = 0.0"),
        text.replace("what = \"gear_tooth\"", "what = \"roller\""),
        text.replace("k = 0.28", "k = -0.28"),
        text.replace("power = 0.5", "power = 0.5\nboost = 2.0"),
    ] {
        assert_ne!(spoilt, text, "the spoiling changed nothing");
        let refused = HazardTable::from_toml(&spoilt);
        assert!(matches!(refused, Err(WearProblem::Table(_))), "{refused:?}");
    }
}

#[test]
fn every_row_says_where_it_comes_from() {
    let table = table();
    let rows = table.debris.iter().map(|row| &row.provenance);
    let rows = rows.chain(table.observation.iter().map(|row| &row.provenance));
    let rows = rows.chain(table.part.iter().map(|row| &row.provenance));
    let rows = rows.chain([
        &table.group.age.provenance,
        &table.group.foreign.provenance,
        &table.first_opening.provenance,
        &table.grain.provenance,
    ]);
    for provenance in rows.chain(table.band.iter().map(|row| &row.provenance)) {
        assert!(provenance.contains("common practice, no published source"));
        assert!(provenance.contains("own judgement"));
    }
}

#[test]
fn a_piece_that_may_be_none_at_all_is_not_sure() {
    let mut evidence = unlooked(0.95, true, false);
    for piece in &mut evidence.photos[0].particles {
        piece.real = Some(0.6);
    }
    let got = assess(&evidence, &table()).unwrap();
    assert_eq!(got.advice.advised, Advice::TestFirst);
    assert_eq!(got.without_doubtful.unwrap().pieces, 12);
}

/// Twelve flakes that a photo shows: what they come to depends on whether somebody looked.
fn unlooked(p: f64, unconfirmed: bool, unusual: bool) -> Evidence {
    let mut evidence = heavy();
    let photo = &mut evidence.photos[0];
    (photo.unconfirmed, photo.unusual) = (unconfirmed, unusual);
    for piece in &mut photo.particles {
        piece.p = [(DebrisClass::SteelFlake, p), (DebrisClass::Lint, 1.0 - p)].into();
    }
    evidence
}

#[test]
fn pieces_that_nobody_looked_at_and_that_are_not_sure_never_lead_to_opening_up() {
    for (evidence, advised) in [
        (unlooked(0.55, true, false), Advice::TestFirst),
        (unlooked(0.95, true, true), Advice::TestFirst),
        (unlooked(0.95, true, false), Advice::OpenUp),
        (unlooked(0.55, false, true), Advice::OpenUp),
    ] {
        let got = assess(&evidence, &table()).unwrap();
        // The score is what was seen; the advice waits.
        assert_eq!(got.band, Band::Heavy);
        assert_eq!(got.advice.advised, advised);
        let first = got.not_confirmed();
        assert_eq!(first.is_some(), evidence.photos[0].unconfirmed, "{first:?}");
        let asked = got.advice.tests.contains(&NextTest::Pieces);
        assert_eq!(asked, advised == Advice::TestFirst);
        if asked {
            let without = got.without_doubtful.unwrap();
            assert_eq!((without.pieces, without.band), (12, Band::Clean));
            let said = got.advice.rules.iter().find(|r| r.rule == Rule::LookFirst);
            assert_eq!(
                said.unwrap().words,
                "Look at the pieces first: 12 of them are not sure and nobody looked at them. With them Heavy and \"Open up\", without them Clean and \"Finish the work\"."
            );
        }
    }
}

#[test]
fn a_band_is_told_with_its_neighbours() {
    let got = assess(&heavy(), &table()).unwrap();
    assert!(!got.bands_also().contains(&got.band));
    assert_eq!(got.band_words(), "Heavy; the evidence also allows Active");
    let sure = assess(&pan_of(60_000.0, Vec::new()), &table()).unwrap();
    assert_eq!(sure.band_words(), "Clean; the evidence also allows Settled");
}
