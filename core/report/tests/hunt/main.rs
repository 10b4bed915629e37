//! A hunt for a changed file that still passes the check: each that does must look the
//! same by two engines.
//!
//! `HUNT=100000 HUNT_SEED=1 cargo test … --test hunt mutated -- --nocapture` goes on for
//! longer; what it prints is the seed with which it does the same again.
#![allow(clippy::unwrap_used, clippy::panic)] // helpers are not #[test] functions

#[path = "../common/mod.rs"]
mod common;
mod looks;
mod mutate;
#[path = "../common/photos.rs"]
mod photos;

use ed25519_dalek::{Signer as _, SigningKey};
use looks::Looks;
use mutate::Draw;
use swarfbook_report::Paper;
use swarfbook_report::seal::{Signer, sign_html, sign_pdf};
use swarfbook_seal::{FIRST_FORM, FORM, Fault, paper, verify};

/// Signed before a seal stated its file's length. Its car is described by a table and three
/// objects of a PDF, and [`SPACES`] more in the filling put the file's end right on them.
const EARLY_PDF: &[u8] = include_bytes!("../../../seal/tests/fixtures/report-form-1.pdf");
const EARLY_PAGE: &[u8] = include_bytes!("../../../seal/tests/fixtures/report-form-1.html");
/// The difference of two places in that file.
const SPACES: usize = 2_231;

/// Both kinds of file of one report.
fn signed(plate: &str) -> [Vec<u8>; 2] {
    let mut content = common::content();
    content.car.plate = plate.to_owned();
    let (content, photos) = photos::with_photos(content, |shade| {
        photos::encoded(&image::RgbImage::from_fn(64, 48, |x, y| {
            image::Rgb([shade, x as u8, y as u8])
        }))
    });
    let key = SigningKey::from_bytes(&[7; 32]);
    let hex = |bytes: &[u8]| -> String { bytes.iter().map(|b| format!("{b:02x}")).collect() };
    let signer = Signer {
        public_hex: &hex(key.verifying_key().as_bytes()),
        sign: &|text| hex(&key.sign(text.as_bytes()).to_bytes()),
    };
    [
        sign_pdf(&content, &photos, Paper::A4, &signer).unwrap(),
        sign_html(&content, &photos, &signer).unwrap().into_bytes(),
    ]
}

fn with_spaces(file: &[u8], spaces: usize) -> Vec<u8> {
    let end = paper::place(file).unwrap().end;
    let mut file = file.to_vec();
    file.splice(end..end, vec![b' '; spaces]);
    file
}

/// Both engines show one empty page in place of the eight that were signed.
#[test]
fn spaces_in_the_filling_show_another_report_and_are_refused() {
    let other = with_spaces(EARLY_PDF, SPACES);
    let (was, is) = (looks::of(EARLY_PDF), looks::of(&other));
    assert_eq!((was.pages(), is.pages()), ([8, 8], [1, 1]));
    assert!(is.both_differ(&was));
    assert_eq!(verify(&other).unwrap_err(), [Fault::Layout]);
    let [now, _] = signed("NO WH 123");
    for spaces in [1, 2, 20, SPACES] {
        for file in [EARLY_PDF, &now] {
            let longer = with_spaces(file, spaces);
            assert_eq!(verify(&longer).unwrap_err(), [Fault::Layout], "{spaces}");
        }
    }
}

#[test]
fn reports_of_the_first_form_are_still_whole() {
    for file in [EARLY_PDF, EARLY_PAGE] {
        let statement = verify(file).unwrap();
        assert_eq!((statement.form, statement.length), (FIRST_FORM, None));
        assert_eq!(statement.shop, "Shop of the test 47");
    }
    for file in signed("NO WH 123") {
        let statement = verify(&file).unwrap();
        assert!(statement.form == FORM && statement.length.is_some());
    }
}

/// A pane of glass on a photo would do for one engine; the two must not be fooled alike.
#[test]
fn the_engines_tell_reports_apart_and_know_the_same_one() {
    for (one, other) in signed("NO WH 123").iter().zip(&signed("NO WH 124")) {
        let (one_looks, other_looks) = (looks::of(one), looks::of(other));
        assert!(one_looks.both_differ(&other_looks));
        assert!(one_looks == looks::of(one));
    }
}

#[test]
fn mutated_files_that_verify_look_the_same() {
    let number = |name: &str, usual: u64| {
        let given = std::env::var(name).ok();
        given.map_or(usual, |text| text.parse().unwrap())
    };
    let (count, seed) = (number("HUNT", 400), number("HUNT_SEED", 21));
    let files: Vec<Vec<u8>> = [EARLY_PDF.to_vec(), EARLY_PAGE.to_vec()]
        .into_iter()
        .chain(signed("NO WH 123"))
        .collect();
    let others = signed("NO WH 124");
    let mut looks: Vec<Option<Looks>> = files.iter().map(|_| None).collect();
    let (mut changed, mut passed, mut seen) = (0, 0, Vec::new());
    for n in 0..count {
        // Each change has a seed of its own, so that one can be looked at alone.
        let mut draw = Draw(seed.wrapping_mul(1_000_003).wrapping_add(n));
        let which = draw.below(files.len());
        let file = &files[which];
        let mutated = mutate::mutated(&mut draw, file, &others[which % 2]);
        if mutated == *file {
            continue;
        }
        changed += 1;
        let Ok(statement) = verify(&mutated) else {
            continue;
        };
        passed += 1;
        assert_eq!(
            statement.form, FIRST_FORM,
            "change {n} of seed {seed}: no byte of a report of now may change"
        );
        if seen.contains(&mutated) {
            continue;
        }
        let was = looks[which].get_or_insert_with(|| looks::of(file));
        assert!(
            *was == looks::of(&mutated),
            "change {n} of seed {seed} verifies and looks otherwise"
        );
        seen.push(mutated);
    }
    println!(
        "hunt: seed {seed}, {changed} changed files, {passed} verify ({} different ones), all look the same",
        seen.len()
    );
    assert!(changed * 10 > count * 9, "{changed} of {count}");
}
