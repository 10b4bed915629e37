//! Which pieces the score counts.

#![allow(clippy::unwrap_used)] // a test stops by panicking

mod common;

use common::{observed, photo, piece};
use swarfbook_job::census::{DebrisClass, PhotoKind};
use swarfbook_wear::{
    Evidence, HazardTable, KnownPart, Observation, ParticleSeen, PhotoSeen, PieceAt, assess,
    counted,
};

fn at(mut piece: ParticleSeen, photo: &str, number: u32) -> ParticleSeen {
    piece.at = Some(PieceAt {
        photo: photo.to_owned(),
        piece: number,
    });
    piece
}

/// Pan and patch show the same roller; the patch shows a flake, too.
fn roller(part: Option<KnownPart>) -> Evidence {
    let sliver = || piece(DebrisClass::SteelSliver, 9.0);
    let flake = piece(DebrisClass::SteelFlake, 0.7);
    let of = |id: &str, kind, particles| PhotoSeen {
        particles,
        ..photo(id, kind)
    };
    Evidence {
        photos: vec![
            of("pan", PhotoKind::Pan, vec![at(sliver(), "pan", 0)]),
            of(
                "patch",
                PhotoKind::Patch,
                vec![at(sliver(), "patch", 0), at(flake, "patch", 1)],
            ),
        ],
        observations: part
            .map(|part| {
                let named = String::new();
                observed("seen", Observation::Chunk { part, named })
            })
            .into_iter()
            .collect(),
        km_since_clean: Some(60_000.0),
        ..Evidence::default()
    }
}

#[test]
fn a_piece_that_was_named_is_counted_as_one_that_was_not_and_once() {
    let table = HazardTable::built_in().unwrap();
    for part in [None, Some(KnownPart::Roller), Some(KnownPart::Clip)] {
        let evidence = roller(part);
        let pieces = counted(&evidence, &table).unwrap();
        let told: Vec<(&str, u32)> = pieces
            .iter()
            .map(|at| (at.photo.as_str(), at.piece))
            .collect();
        assert_eq!(told, [("patch", 0), ("patch", 1)], "{part:?}");
        // They are those that the reasons name.
        let got = assess(&evidence, &table).unwrap();
        let mut named: Vec<PieceAt> = got.reasons.into_iter().flat_map(|r| r.pieces).collect();
        named.sort();
        named.dedup();
        assert!(named.iter().all(|at| pieces.contains(at)), "{part:?}");
    }
}
