//! Photos drawn by `learn/photos.py --held` (seed 7001): faces and cameras that nothing learned
//! from. What each shows is the painter's own truth.
#![allow(clippy::expect_used, clippy::panic)] // tests

use std::path::Path;

use swarfbook_display::{Display, Grey, Reading, Unread};

fn read(name: &str) -> Result<Reading, Unread> {
    let file = Path::new("tests/photos").join(format!("{name}.jpg"));
    let photo = image::open(file).expect("a photo").into_rgb8();
    let (width, height) = (photo.width() as usize, photo.height() as usize);
    let grey = Grey::from_bytes(width, height, 3, photo.as_raw()).expect("its size");
    Display::built_in().expect("the model").read(&grey)
}

#[test]
fn what_a_display_shows_is_read() {
    for (name, text, value) in [
        ("7009", "0.60", 0.60),     // dark on light, aslant
        ("7013", "92.7", 92.7),     // lit digits, coloured light
        ("7020", "25.5", 25.5),     // dots
        ("7021", "08.9", 8.9),      // a leading nought
        ("7022", "-12.37", -12.37), // sign
        ("7028", "-1.1", -1.1),     // thin ones alone
        ("7030", "2686.99", 2686.99),
        ("7034", "-1.61", -1.61),
    ] {
        let reading = read(name).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(reading.text, text, "{name}");
        assert_eq!(reading.value, Some(value), "{name}");
        assert!(!reading.over_range && reading.p > 0.9, "{name}");
    }
}

#[test]
fn what_is_no_number_or_in_doubt_is_not_read() {
    for (name, why) in [
        ("7017", Unread::NoNumber), // letters
        ("7032", Unread::Doubtful), // glare over a digit: 158, of which 1?8 is left
        ("7023", Unread::CutOff),   // the row ends at the border
    ] {
        assert_eq!(read(name).expect_err(name), why, "{name}");
    }
    // A meter's body without a display.
    assert!(read("7019").is_err());
}

#[test]
fn the_row_is_where_it_was_drawn() {
    // The painter's corners of 7009, in the photo's own px.
    let reading = read("7009").expect("read");
    let want = [
        [105.0, 251.1],
        [229.5, 260.2],
        [234.7, 300.1],
        [104.7, 296.5],
    ];
    for (have, want) in reading.corners_px.iter().zip(want) {
        let off = (have[0] - want[0]).hypot(have[1] - want[1]);
        assert!(off < 6.0, "{have:?} {want:?}");
    }
}

#[test]
fn an_even_grey_and_a_tiny_frame_show_no_display() {
    let display = Display::built_in().expect("the model");
    for (width, height) in [(640, 480), (1, 1), (3, 900)] {
        let grey = Grey::from_bytes(width, height, 1, &vec![90; width * height]).expect("fits");
        assert!(display.read(&grey).is_err(), "{width} x {height}");
    }
}

#[test]
fn a_damaged_model_is_refused() {
    let error = Display::from_bytes(b"SWDN\x01\x02").expect_err("cut short");
    assert!(error.to_string().contains("cut short"));
}
