//! What holds for every pan.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use std::collections::BTreeMap;
use std::sync::LazyLock;

use common::{cover, observed};
use proptest::prelude::*;
use proptest::sample::select;
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_wear::{
    Advice, Assessment, Evidence, FilterFound, FluidLook, Group, HazardTable, KnownPart, LengthMm,
    Observation, Observed, ParticleSeen, Paste, PhotoSeen, Smell, SteelFeel, assess,
};

fn judge(evidence: &Evidence) -> Assessment {
    static TABLE: LazyLock<HazardTable> = LazyLock::new(|| HazardTable::built_in().unwrap());
    assess(evidence, &TABLE).unwrap()
}

fn particle() -> impl Strategy<Value = ParticleSeen> {
    let other = select(&DebrisClass::ALL[..]);
    let sized = prop::option::weighted(0.9, (0.05..8.0_f64, 0.01..0.3_f64));
    let compact = prop::option::of(0.1..1.0_f64);
    (
        select(&DebrisClass::ALL[..]),
        other,
        0.5..1.0_f64,
        sized,
        compact,
    )
        .prop_map(|(class, other, own, sized, compact)| {
            let mut p = BTreeMap::from([(other, 1.0 - own)]);
            *p.entry(class).or_default() += own;
            ParticleSeen {
                class,
                p,
                feret_max: sized.map(|(mm, u)| LengthMm {
                    mm,
                    lo: mm * (1.0 - u),
                    hi: mm * (1.0 + u),
                }),
                real: None,
                compact,
                at: None,
            }
        })
}

fn photo() -> impl Strategy<Value = PhotoSeen> {
    (
        "[a-z]{8}",
        select(&[PhotoKind::Patch, PhotoKind::Pan, PhotoKind::Magnet][..]),
        prop::collection::vec(particle(), 0..25),
        prop::option::of(5.0..800.0_f64),
        prop::option::of(0.0..1.0_f64),
    )
        .prop_map(|(id, kind, particles, searched_cm2, share)| PhotoSeen {
            id,
            kind,
            again: false,
            unconfirmed: false,
            unusual: false,
            particles,
            searched_cm2,
            smallest_mm: Some(0.3),
            cover: share.filter(|_| kind == PhotoKind::Magnet).map(cover),
        })
}

fn observation() -> impl Strategy<Value = Observed> {
    let what = prop_oneof![
        select(
            &[
                FluidLook::Clear,
                FluidLook::Dark,
                FluidLook::Milky,
                FluidLook::Foamy,
                FluidLook::Glittering
            ][..]
        )
        .prop_map(|look| Observation::Fluid { look }),
        select(&[Smell::None, Smell::Sharp, Smell::Burnt][..])
            .prop_map(|smell| Observation::Smell { smell }),
        select(&[Paste::None, Paste::ThinFilm, Paste::ThickPaste][..])
            .prop_map(|paste| Observation::Paste { paste }),
        select(
            &[
                FilterFound::Clean,
                FilterFound::Some,
                FilterFound::LiningDust,
                FilterFound::Metal,
                FilterFound::Choked
            ][..]
        )
        .prop_map(|found| Observation::Filter { found }),
        // What is harmless takes a piece's weight away: that is what naming it is for.
        select(
            &[
                KnownPart::GearTooth,
                KnownPart::Roller,
                KnownPart::SnapRing,
                KnownPart::Spring,
                KnownPart::LiningBlock,
                KnownPart::BushingHalf,
                KnownPart::Other,
                KnownPart::Unnamed,
            ][..]
        )
        .prop_map(|part| Observation::Chunk {
            part,
            named: String::new()
        }),
        select(&[SteelFeel::Nothing, SteelFeel::Flat, SteelFeel::Grains][..])
            .prop_map(|feel| Observation::Steel { feel }),
    ];
    ("[a-z]{8}", what).prop_map(|(id, what)| observed(&id, what))
}

fn evidence() -> impl Strategy<Value = Evidence> {
    (
        prop::collection::vec(photo(), 1..5),
        prop::collection::vec(observation(), 0..4),
        prop::option::weighted(0.8, 0.0..400_000.0_f64),
        prop::option::of(0.0..500_000.0_f64),
        any::<bool>(),
    )
        .prop_map(
            |(photos, observations, km_since_clean, odometer_km, first_opening)| Evidence {
                photos,
                observations,
                km_since_clean,
                odometer_km,
                first_opening,
                ..Evidence::default()
            },
        )
}

/// The same to the rounding of sums taken in another order.
fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * (1.0 + a.abs())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 200,
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn bounded_and_inside_of_its_interval(evidence in evidence()) {
        let got = judge(&evidence);
        prop_assert!(0.0 <= got.score_lo && got.score_hi <= 100.0);
        prop_assert!(got.score_lo <= got.score && got.score <= got.score_hi);
        prop_assert!(got.band_lo <= got.band && got.band <= got.band_hi);
    }

    #[test]
    fn reasons_sum_to_the_hazard(evidence in evidence()) {
        let got = judge(&evidence);
        let hazard: f64 = got.reasons.iter().map(|reason| reason.hazard).sum();
        let shares: f64 = got.reasons.iter().map(|reason| reason.share).sum();
        prop_assert!(same(hazard, got.hazard));
        prop_assert!(same(got.score, 100.0 * (1.0 - (-got.hazard).exp())));
        prop_assert!(got.reasons.is_empty() || same(shares, 1.0));
        prop_assert!(got.reasons.windows(2).all(|pair| pair[0].hazard >= pair[1].hazard));
        prop_assert!(got.reasons.iter().all(|reason| !reason.sources.is_empty()));
    }

    #[test]
    fn a_particle_more_never_lowers(
        evidence in evidence(),
        more in particle(),
        place in any::<prop::sample::Index>(),
    ) {
        let before = judge(&evidence);
        let mut after = evidence.clone();
        let place = place.index(after.photos.len());
        after.photos[place].particles.push(more.clone());
        let after = judge(&after);
        prop_assert!(after.hazard >= before.hazard - 1e-12);
        prop_assert!(more.class != DebrisClass::Lint || after.score == before.score);
    }

    #[test]
    fn an_observation_more_never_lowers(evidence in evidence(), more in observation()) {
        let before = judge(&evidence);
        // The finger overrides the photo, so a bare magnet may lower what a cover raised.
        prop_assume!(!matches!(more.observation, Observation::Paste { .. }));
        let mut after = evidence.clone();
        after.observations.push(more);
        prop_assert!(judge(&after).hazard >= before.hazard - 1e-12);
    }

    #[test]
    fn more_cover_or_thicker_paste_never_lowers(evidence in evidence(), share in 0.0..1.0_f64) {
        let mut thin = evidence.clone();
        thin.observations.push(observed("felt", Observation::Paste { paste: Paste::ThinFilm }));
        let mut thick = thin.clone();
        thick.observations.push(observed("felt", Observation::Paste { paste: Paste::ThickPaste }));
        let mut covered = thin.clone();
        for photo in &mut covered.photos {
            if let Some(cover) = &mut photo.cover {
                cover.cover += share * (1.0 - cover.cover);
                cover.cover_hi = 1.0;
            }
        }
        let thin = judge(&thin).hazard;
        prop_assert!(judge(&thick).hazard >= thin - 1e-12);
        prop_assert!(judge(&covered).hazard >= thin - 1e-12);
    }

    #[test]
    fn more_distance_never_raises(evidence in evidence(), more_km in 0.0..300_000.0_f64) {
        let before = judge(&evidence);
        let mut after = evidence.clone();
        after.km_since_clean = after.km_since_clean.map(|km| km + more_km);
        after.odometer_km = after.odometer_km.map(|km| km + more_km);
        let after = judge(&after);
        prop_assert!(after.hazard <= before.hazard + 1e-12);
        prop_assert!(after.score <= before.score + 1e-9);
    }

    #[test]
    fn order_never_matters(evidence in evidence(), turns in 0..7_usize) {
        let before = judge(&evidence);
        let mut after = evidence.clone();
        after.photos.reverse();
        after.observations.reverse();
        let turns_of_observations = turns % (after.observations.len() + 1);
        after.observations.rotate_left(turns_of_observations);
        for photo in &mut after.photos {
            photo.particles.reverse();
            let turns = turns % (photo.particles.len() + 1);
            photo.particles.rotate_left(turns);
        }
        let after = judge(&after);
        prop_assert!(same(before.score, after.score));
        prop_assert!(same(before.score_lo, after.score_lo));
        prop_assert!(same(before.score_hi, after.score_hi));
        prop_assert_eq!(before.band, after.band);
        prop_assert_eq!(before.advice.advised, after.advice.advised);
        prop_assert_eq!(&before.findings, &after.findings);
        prop_assert_eq!(&before.limits, &after.limits);
        let words = |got: &Assessment| {
            got.reasons.iter().map(|reason| reason.words.clone()).collect::<Vec<_>>()
        };
        prop_assert_eq!(words(&before), words(&after));
    }

    #[test]
    fn one_photo_or_its_two_halves(
        evidence in evidence(),
        which in any::<prop::sample::Index>(),
        at in any::<prop::sample::Index>(),
        part in 0.1..0.9_f64,
    ) {
        let whole = judge(&evidence);
        let mut halves = evidence.clone();
        let which = which.index(halves.photos.len());
        let photo = &mut halves.photos[which];
        let cut = at.index(photo.particles.len() + 1);
        let mut other = photo.clone();
        other.id = "other half".to_owned();
        other.particles = photo.particles.split_off(cut);
        other.searched_cm2 = photo.searched_cm2.map(|area| area * part);
        photo.searched_cm2 = photo.searched_cm2.map(|area| area * (1.0 - part));
        halves.photos.push(other);
        let halves = judge(&halves);
        prop_assert!(same(whole.hazard, halves.hazard));
        prop_assert!(same(whole.score_lo, halves.score_lo));
        prop_assert!(same(whole.score_hi, halves.score_hi));
    }

    #[test]
    fn ground_seen_again_does_not_count_again(evidence in evidence()) {
        let once = judge(&evidence);
        let mut twice = evidence.clone();
        let again: Vec<PhotoSeen> = evidence
            .photos
            .iter()
            .cloned()
            .map(|photo| PhotoSeen { again: true, ..photo })
            .collect();
        twice.photos.extend(again);
        prop_assert!(same(once.score, judge(&twice).score));
    }

    #[test]
    fn naming_what_is_harmless_never_raises_beyond_its_own_weight(
        evidence in evidence(),
        part in select(&[KnownPart::AssemblyPlug, KnownPart::Gasket, KnownPart::Sealant][..]),
    ) {
        let before = judge(&evidence);
        let mut after = evidence.clone();
        let named = String::new();
        after.observations.push(observed("named", Observation::Chunk { part, named }));
        prop_assert!(judge(&after).hazard <= before.hazard + 1e-9);
    }

    #[test]
    fn signs_of_age_never_add_more_than_their_cap(evidence in evidence()) {
        let got = judge(&evidence);
        let table = HazardTable::built_in().unwrap();
        for (group, row) in [(Group::Age, &table.group.age), (Group::Foreign, &table.group.foreign)] {
            let of = got.reasons.iter().filter(|reason| reason.group == Some(group));
            let sum: f64 = of.map(|reason| reason.hazard).sum();
            let e = if row.excused { got.exposure.distance } else { 1.0 };
            prop_assert!(sum <= row.cap / e + 1e-9, "{group:?} {sum}");
        }
    }

    #[test]
    fn what_nobody_looked_at_never_leads_to_opening_up(evidence in evidence(), unusual in any::<bool>()) {
        let mut evidence = evidence;
        for photo in &mut evidence.photos {
            photo.unconfirmed = true;
            photo.unusual = unusual;
        }
        let mut sure = evidence.clone();
        for photo in &mut sure.photos {
            photo.particles.retain(|piece| !unusual && piece.p.get(&piece.class).copied().unwrap_or(0.0) >= 0.7);
            photo.unconfirmed = false;
        }
        let (got, sure) = (judge(&evidence), judge(&sure));
        if got.advice.advised == Advice::OpenUp {
            prop_assert_eq!(sure.advice.advised, Advice::OpenUp);
        }
        prop_assert!(got.not_confirmed().unwrap().starts_with("Not yet confirmed"));
    }

    #[test]
    fn milky_and_foam_stay_out_of_the_score(evidence in evidence()) {
        let before = judge(&evidence);
        let mut after = evidence.clone();
        for look in [FluidLook::Milky, FluidLook::Foamy] {
            after.observations.push(observed("look", Observation::Fluid { look }));
        }
        prop_assert_eq!(before.score, judge(&after).score);
    }

    #[test]
    fn what_goes_out_comes_back(evidence in evidence()) {
        let got = judge(&evidence);
        let json = serde_json::to_string(&got).unwrap();
        let back: Assessment = serde_json::from_str(&json).unwrap();
        prop_assert_eq!(&serde_json::to_string(&back).unwrap(), &json);
        let json = serde_json::to_string(&evidence).unwrap();
        let back: Evidence = serde_json::from_str(&json).unwrap();
        prop_assert_eq!(judge(&back).band, got.band);
    }
}

fn piece(class: DebrisClass, mm: f64, compact: Option<f64>) -> ParticleSeen {
    ParticleSeen {
        class,
        p: BTreeMap::from([(class, 1.0)]),
        feret_max: Some(LengthMm {
            mm,
            lo: mm * 0.99,
            hi: mm * 1.01,
        }),
        real: None,
        compact,
        at: None,
    }
}

fn seen(kind: PhotoKind, particles: Vec<ParticleSeen>) -> PhotoSeen {
    PhotoSeen {
        id: format!("{kind:?}"),
        kind,
        again: false,
        unconfirmed: false,
        unusual: false,
        particles,
        searched_cm2: None,
        smallest_mm: Some(0.3),
        cover: None,
    }
}

fn chunk(part: KnownPart) -> Observed {
    let named = String::new();
    observed("chunk", Observation::Chunk { part, named })
}

/// A tooth of which pan and patch show a piece: grains felt once let it stand for the patch's flake as well.
#[test]
fn grains_felt_never_lower_what_lies_beside_a_named_part() {
    use DebrisClass::{SteelFlake, SteelSliver};
    let pan = vec![piece(SteelSliver, 7.1, None), piece(SteelSliver, 6.4, None)];
    let patch = vec![piece(SteelFlake, 5.5, None), piece(SteelSliver, 6.3, None)];
    let mut evidence = Evidence {
        photos: vec![seen(PhotoKind::Pan, pan), seen(PhotoKind::Patch, patch)],
        observations: vec![chunk(KnownPart::GearTooth)],
        ..Evidence::default()
    };
    let before = judge(&evidence).hazard;
    let feel = SteelFeel::Grains;
    evidence
        .observations
        .push(observed("felt", Observation::Steel { feel }));
    let after = judge(&evidence).hazard;
    assert!(after >= before, "{before} and {after}");
}

/// A second part once took the greater piece, so that the graver part stood for the lesser one; and once a flake
/// and a grain, as if they were of one weight.
#[test]
fn a_second_named_part_never_lowers() {
    use DebrisClass::{SteelFlake, SteelSliver};
    let two = vec![
        piece(SteelFlake, 6.0, None),
        piece(SteelFlake, 6.2, Some(0.1)),
    ];
    let pan = vec![
        piece(SteelSliver, 6.9, None),
        piece(SteelFlake, 7.3, Some(0.1)),
    ];
    let patch = vec![piece(SteelFlake, 5.3, None), piece(SteelFlake, 5.2, None)];
    let residues = [
        vec![seen(PhotoKind::Patch, two)],
        vec![seen(PhotoKind::Pan, pan), seen(PhotoKind::Patch, patch)],
    ];
    let feel = SteelFeel::Grains;
    for photos in residues {
        let mut evidence = Evidence {
            photos,
            observations: vec![
                chunk(KnownPart::GearTooth),
                observed("felt", Observation::Steel { feel }),
            ],
            ..Evidence::default()
        };
        let before = judge(&evidence).hazard;
        evidence.observations.push(chunk(KnownPart::Other));
        let after = judge(&evidence).hazard;
        assert!(after >= before, "{before} and {after}");
    }
}
