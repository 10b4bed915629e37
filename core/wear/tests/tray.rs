//! The order in which pieces are looked at.

#![allow(clippy::unwrap_used)] // a test stops by panicking

mod common;

use std::collections::BTreeMap;

use common::{observed, patch, piece};
use swarfbook_job::census::DebrisClass;
use swarfbook_job::census::DebrisClass::{Grit, Lint, SteelFlake, SteelSliver};
use swarfbook_job::procedure::SteelFeel;
use swarfbook_wear::{HazardTable, Observation, ParticleSeen, PhotoSeen, TrayPlace, tray};

fn doubtful(class: DebrisClass, mm: f64, p: f64, other: DebrisClass) -> ParticleSeen {
    ParticleSeen {
        p: BTreeMap::from([(class, p), (other, 1.0 - p)]),
        ..piece(class, mm)
    }
}

fn order(photo: &PhotoSeen) -> Vec<(usize, TrayPlace)> {
    let table = HazardTable::built_in().unwrap();
    let laid = tray(photo, &[], &table);
    laid.into_iter().map(|one| (one.piece, one.place)).collect()
}

#[test]
fn gravest_first_then_most_doubtful_then_the_sure_ones_by_class() {
    let pieces = vec![
        piece(Lint, 3.0),
        piece(Grit, 0.3),
        doubtful(Grit, 0.3, 0.6, Lint),
        piece(SteelSliver, 6.0),
        doubtful(Lint, 2.0, 0.5, Grit),
        piece(Lint, 2.0),
    ];
    use TrayPlace::{Doubtful, Grave, Sure};
    assert_eq!(
        order(&patch(pieces)),
        [
            (3, Grave),
            (4, Doubtful),
            (2, Doubtful),
            (1, Sure),
            (0, Sure),
            (5, Sure)
        ]
    );
}

#[test]
fn each_piece_lies_there_once_and_few_are_grave() {
    let mut pieces: Vec<ParticleSeen> = (0..80).map(|_| piece(SteelFlake, 0.7)).collect();
    pieces[40] = doubtful(SteelFlake, 0.7, 0.55, Grit);
    let order = order(&patch(pieces));
    let mut numbers: Vec<usize> = order.iter().map(|(piece, _)| *piece).collect();
    numbers.sort_unstable();
    assert_eq!(numbers, (0..80).collect::<Vec<_>>());
    let grave = order.iter().filter(|(_, place)| *place == TrayPlace::Grave);
    assert_eq!(grave.count(), 12);
    // Among equals the most doubtful.
    assert_eq!(order[0], (40, TrayPlace::Grave));
}

#[test]
fn a_photo_that_is_unlike_any_learned_has_no_sure_pieces_but_those_that_somebody_named() {
    let machine = doubtful(Grit, 0.3, 0.99, Lint);
    let photo = PhotoSeen {
        unusual: true,
        ..patch(vec![piece(Lint, 1.0), machine])
    };
    let places: BTreeMap<usize, TrayPlace> = order(&photo).into_iter().collect();
    assert_eq!(places[&0], TrayPlace::Sure);
    assert_ne!(places[&1], TrayPlace::Sure);
}

#[test]
fn what_the_finger_felt_as_grains_weighs_as_grains() {
    let table = HazardTable::built_in().unwrap();
    let round = |mm| ParticleSeen {
        compact: Some(0.9),
        ..piece(SteelFlake, mm)
    };
    let flat = |mm| ParticleSeen {
        compact: Some(0.2),
        ..piece(SteelFlake, mm)
    };
    let photo = patch(vec![flat(1.2), round(1.2)]);
    let felt = observed(
        "feel",
        Observation::Steel {
            feel: SteelFeel::Grains,
        },
    );
    let first = |observations: &[_]| tray(&photo, observations, &table)[0].piece;
    assert_eq!((first(&[]), first(&[felt])), (0, 1));
}
