//! The card that we print is the card that we find: drawn as a picture and read
//! by the census's own eye.
#![allow(clippy::unwrap_used, clippy::panic)] // helpers are not #[test] functions

use image::{Rgb, RgbImage};
use swarfbook_debris::{Settings, census};
use swarfbook_job::census::{PhotoHints, PhotoKind};
use swarfbook_report::card::{Form, SIZE_MM, forms, sheet};

/// Looks a pixel's side.
const FINE: f64 = 3.0;
const PX: [u32; 2] = [1600, 1200];

/// The card on grey ground, `scale` px a mm, its corner at `at`; every pixel is
/// the mean of nine looks.
fn picture(scale: f64, at: [f64; 2], rim: f64) -> Vec<u8> {
    let fine = scale * FINE;
    let [width, height] = PX.map(|px| px as usize * FINE as usize);
    let mut looks = vec![[150, 140, 120]; width * height];
    let mut paint = |[l, t, w, h]: [f64; 4], ink: [u8; 3], inside: &dyn Fn(f64, f64) -> bool| {
        let px = |mm: f64, axis: usize| ((mm + at[axis]) * fine).ceil().max(0.0) as usize;
        for row in px(t, 1)..px(t + h, 1).min(height) {
            for column in px(l, 0)..px(l + w, 0).min(width) {
                let x = (column as f64 + 0.5) / fine - at[0];
                let y = (row as f64 + 0.5) / fine - at[1];
                if inside(x, y) {
                    looks[row * width + column] = ink;
                }
            }
        }
    };
    let [wide, high] = SIZE_MM;
    let around = [-rim, -rim, wide + 2.0 * rim, high + 2.0 * rim];
    paint(around, [40; 3], &|_, _| true);
    paint([0.0, 0.0, wide, high], [246; 3], &|_, _| true);
    for form in forms().unwrap() {
        match form {
            Form::Rect(place, ink) => paint(place, ink.map(|c| c.max(22)), &|_, _| true),
            Form::Disc([x, y], r, ink) => {
                let place = [x - r, y - r, 2.0 * r, 2.0 * r];
                let inside = |at: f64, down: f64| (at - x).hypot(down - y) < r;
                paint(place, ink.map(|c| c.clamp(22, 246)), &inside);
            }
        }
    }
    let fine = FINE as usize;
    let picture = RgbImage::from_fn(PX[0], PX[1], |x, y| {
        let mut sum = [0_usize; 3];
        for part in 0..fine * fine {
            let row = y as usize * fine + part / fine;
            let column = x as usize * fine + part % fine;
            for (sum, ink) in sum.iter_mut().zip(looks[row * width + column]) {
                *sum += usize::from(ink);
            }
        }
        Rgb(sum.map(|sum| (sum / (fine * fine)) as u8))
    });
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 92)
        .encode_image(&picture)
        .unwrap();
    bytes
}

#[test]
fn the_card_is_found_where_it_lies_and_in_its_size() {
    for rim in [0.0, 6.0] {
        let (scale, at) = (12.5, [14.0, 20.0]);
        let settings = Settings {
            kind: PhotoKind::Patch,
        };
        let photo = picture(scale, at, rim);
        let census = census(&photo, &PhotoHints::default(), &settings).unwrap();
        let found = census
            .card
            .unwrap_or_else(|| panic!("not found, rim {rim}"));
        let px_per_mm = census.scale.unwrap().px_per_mm;
        assert!((px_per_mm / scale - 1.0).abs() < 0.005, "{px_per_mm}");
        let corners = [[0.0, 0.0], [SIZE_MM[0], 0.0], SIZE_MM, [0.0, SIZE_MM[1]]];
        for (is, should) in found.corners_px.iter().zip(corners) {
            let should = [0, 1].map(|axis| (should[axis] + at[axis]) * scale);
            let off = (is[0] - should[0]).hypot(is[1] - should[1]);
            assert!(off < 2.0, "{off} px");
        }
    }
}

#[test]
fn the_sheet_has_one_page_that_fits_both_papers() {
    let file = lopdf::Document::load_mem(&sheet("en").unwrap()).unwrap();
    let pages = file.get_pages();
    assert_eq!(pages.len(), 1);
    let page = file.get_dictionary(pages[&1]).unwrap();
    let media = page.get(b"MediaBox").unwrap().as_array().unwrap();
    // A4 is 210 mm wide, Letter 279.4 mm high.
    for (side, mm) in media.iter().skip(2).zip([210.0, 279.4]) {
        assert!((side.as_float().unwrap() / 72.0 * 25.4 - mm).abs() < 0.01);
    }
}
