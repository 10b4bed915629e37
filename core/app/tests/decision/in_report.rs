//! What the report shows of the evidence.

use super::*;

#[test]
fn the_photo_that_decides_is_in_the_report_however_many_there_are() {
    let bay = Bay::with_car();
    let grey = bay
        .app
        .put_photo(include_bytes!("../guard/grey.png"))
        .expect("kept");
    for _ in 0..24 {
        bay.write(Fact::PhotoTaken {
            step: "covers-off".into(),
            photo: grey,
            subject: PhotoSubject::Place,
        });
    }
    let (patch, _) = bay.patch(6);
    let content = bay.content();
    assert_eq!(content.deciding, Some(patch));
    assert_eq!(content.photos.len(), 24);
    assert!(content.photos.iter().any(|photo| photo.entry == patch));
}

/// Sizes of which the photo can't show all pieces are marked, on the screen and in the report.
#[test]
fn sizes_below_what_the_photo_shows_are_marked() {
    let bay = Bay::with_car();
    let mut pieces = [0.28, 0.30, 0.32, 0.34, 0.36].map(|mm| [mm, mm]).to_vec();
    pieces.extend([[1.4, 0.9]; 2]);
    let (_, census) = bay.patch_of(&pieces);
    // "Nothing under 0.36 mm can be seen in this photo.": of 0.2 to 0.4 mm some may be missed.
    assert!(
        census.unseen_words.contains("under 0.3"),
        "{}",
        census.unseen_words
    );
    let small = "0.2 to 0.4 mm";
    let screen: Vec<(&str, bool)> = census
        .histogram
        .iter()
        .map(|bar| (bar.label.as_str(), bar.below_seen))
        .collect();
    assert!(screen.contains(&(small, true)), "{screen:?}");
    assert!(screen.contains(&("1 to 1.5 mm", false)), "{screen:?}");
    assert!(
        screen
            .iter()
            .all(|(label, mark)| *mark == (*label == small))
    );
    let content = bay.content();
    let report: Vec<(&str, bool)> = content
        .sizes
        .iter()
        .map(|bar| (bar.label.as_str(), bar.below_seen))
        .collect();
    assert_eq!(report, screen);
    let page = bay.preview();
    for text in ["0.2 to 0.4 mm *<", "* Pieces as small as this"] {
        assert!(page.contains(text), "{text}");
    }
    assert!(!page.contains("1 to 1.5 mm *"));
    // Of a class of which only small pieces were found the largest is no largest.
    assert!(content.kinds.iter().all(|kind| {
        let small = (kind.largest.as_ref()).is_some_and(|size| size.mm.get() < 0.4);
        kind.below_seen == small
    }));
}

/// A piece that was named weighs as that part, and stays a piece among the others.
#[test]
fn a_named_piece_stays_in_the_tables_of_the_report() {
    let bay = Bay::with_car();
    let (photo, census) = bay.patch_of(&[[9.0, 1.4]]);
    bay.write(Fact::ParticleCorrected {
        photo,
        at_px: census.particles[0].at_px,
        to: Correction::Debris {
            class: DebrisClass::SteelSliver,
        },
    });
    let tables = || {
        let content = bay.content();
        (content.kinds, content.sizes, content.unsized_pieces)
    };
    let (kinds, sizes, unsized_pieces) = tables();
    let largest = kinds[0].largest.as_ref().expect("a size").mm.get();
    assert!((largest - 9.0).abs() < 0.3, "{largest}");
    assert_eq!((kinds.len(), sizes.len(), unsized_pieces), (1, 1, 0));
    bay.answer("census", "chunk", "roller");
    assert_eq!(tables(), (kinds, sizes, unsized_pieces));
}

/// Reasons that hardly count are told as one, and the shares still come to all.
#[test]
fn reasons_of_less_than_one_percent_are_one_line() {
    let bay = Bay::with_car();
    bay.answer("census", "chunk", "gear_tooth");
    let (photo, census) = bay.patch_of(&[[1.4, 0.9], [0.6, 0.5], [0.6, 0.5]]);
    for (piece, class) in census.particles.iter().zip([
        DebrisClass::Elastomer,
        DebrisClass::Elastomer,
        DebrisClass::Grit,
    ]) {
        bay.write(Fact::ParticleCorrected {
            photo,
            at_px: piece.at_px,
            to: Correction::Debris { class },
        });
    }
    let wear = bay.view().wear.expect("a score");
    let (last, heavy) = wear.reasons.split_last().expect("reasons");
    assert!(
        last.words.contains("other reasons, each of less than 1 %"),
        "{:?}",
        wear.reasons
    );
    assert!(heavy.iter().all(|reason| reason.share >= 0.01));
    assert!(last.pieces.iter().map(|of| of.pieces.len()).sum::<usize>() >= 2);
    let all: f64 = wear.reasons.iter().map(|reason| reason.share).sum();
    assert!((all - 1.0).abs() < 1e-9);
    let told = bay.content().wear.expect("a score").reasons;
    assert_eq!(told.len(), wear.reasons.len());
    assert_eq!(
        told.iter().map(|one| u32::from(one.percent)).sum::<u32>(),
        100
    );
}
