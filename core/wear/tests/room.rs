//! The brief's cases where their words leave room: other distances, covers,
//! counts and sizes than `cases.toml` takes. Common practice, no published source.

#![allow(clippy::unwrap_used, clippy::panic)] // a test stops by panicking

mod common;

use common::{cover, observed, pan_of, photo, piece};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_wear::{
    Assessment, Band, Evidence, FluidLook, HazardTable, KnownPart, Observation, Paste, PhotoSeen,
    assess,
};

const DISTANCES: [Option<f64>; 7] = [
    None,
    Some(0.0),
    Some(2_000.0),
    Some(20_000.0),
    Some(60_000.0),
    Some(150_000.0),
    Some(900_000.0),
];

fn judge(evidence: &Evidence) -> Assessment {
    assess(evidence, &HazardTable::built_in().unwrap()).unwrap()
}

fn film(km: f64, share: Option<f64>) -> Evidence {
    let paste = Paste::ThinFilm;
    let mut evidence = pan_of(km, Vec::new());
    evidence
        .observations
        .push(observed("felt", Observation::Paste { paste }));
    evidence.photos.extend(share.map(|share| PhotoSeen {
        cover: Some(cover(share)),
        ..photo("magnet", PhotoKind::Magnet)
    }));
    evidence
}

#[test]
fn a_clean_pan_is_clean_at_any_distance() {
    for km in DISTANCES {
        let mut evidence = pan_of(0.0, Vec::new());
        evidence.km_since_clean = km;
        assert_eq!(judge(&evidence).band, Band::Clean, "{km:?}");
    }
}

#[test]
fn a_film_is_a_band_more_after_2000_km_whatever_it_covers() {
    for share in [None, Some(0.05), Some(0.3), Some(0.6), Some(1.0)] {
        let old = judge(&film(60_000.0, share)).band;
        let new = judge(&film(2_000.0, share)).band;
        assert!(old <= Band::Settled, "{share:?}: {old:?}");
        assert!(new > old, "{share:?}: {new:?} and {old:?}");
    }
}

#[test]
fn lining_dust_and_dark_fluid_are_settled_or_active() {
    let look = FluidLook::Dark;
    for n in [5, 30, 100, 1_000] {
        for mm in [0.1, 0.2, 0.39] {
            let mut evidence = pan_of(150_000.0, vec![piece(DebrisClass::Lining, mm); n]);
            evidence
                .observations
                .push(observed("eye", Observation::Fluid { look }));
            let band = judge(&evidence).band;
            assert!(
                (Band::Settled..=Band::Active).contains(&band),
                "{n} of {mm} mm: {band:?}"
            );
        }
    }
}

#[test]
fn three_yellow_flakes_over_a_millimetre_are_active_at_any_distance() {
    for km in DISTANCES {
        for mm in [1.0, 1.2, 2.5, 6.0] {
            let mut evidence = pan_of(0.0, vec![piece(DebrisClass::YellowMetal, mm); 3]);
            evidence.km_since_clean = km;
            assert!(judge(&evidence).band >= Band::Active, "{km:?} {mm}");
        }
    }
}

#[test]
fn twenty_steel_flakes_and_paste_are_heavy_at_any_distance() {
    for km in DISTANCES {
        for paste in [Paste::ThinFilm, Paste::ThickPaste] {
            for mm in [0.4, 0.7, 0.999] {
                let mut evidence = pan_of(0.0, vec![piece(DebrisClass::SteelFlake, mm); 20]);
                evidence.km_since_clean = km;
                evidence
                    .observations
                    .push(observed("felt", Observation::Paste { paste }));
                assert!(judge(&evidence).band >= Band::Heavy, "{km:?} {mm}");
            }
        }
    }
}

#[test]
fn a_chunk_is_failing_at_any_distance_and_with_a_clean_patch() {
    for km in DISTANCES {
        let mut evidence = pan_of(0.0, Vec::new());
        evidence.km_since_clean = km;
        let (part, named) = (KnownPart::GearTooth, String::new());
        evidence
            .observations
            .push(observed("eye", Observation::Chunk { part, named }));
        assert_eq!(judge(&evidence).band, Band::Failing, "{km:?}");
    }
}

/// Form before size before count, as the public handbooks have it.
#[test]
fn form_and_size_order_the_weights() {
    use DebrisClass::{
        Elastomer, Grit, LightMetal, Lining, Plastic, SteelFlake, SteelSliver, YellowMetal,
    };
    let score = |class, mm| judge(&pan_of(60_000.0, vec![piece(class, mm)])).score;
    for mm in [0.2, 0.7, 1.5, 2.5, 3.5, 6.0] {
        assert!(score(SteelSliver, mm) > score(SteelFlake, mm), "{mm}");
        for metal in [SteelFlake, SteelSliver, YellowMetal, LightMetal] {
            for soft in [Elastomer, Grit] {
                assert!(
                    score(metal, mm) > score(soft, mm),
                    "{metal:?} {soft:?} {mm}"
                );
            }
        }
        for middling in [Lining, Plastic] {
            assert!(
                score(middling, mm) > score(Elastomer, mm),
                "{middling:?} {mm}"
            );
            assert!(
                score(SteelFlake, mm) > score(middling, mm),
                "{middling:?} {mm}"
            );
        }
    }
}
