//! Photos drawn by `learn/photos.py --held`, each by a seed of its own number but for two of seed 7001 (its 10th and
//! 18th): faces and cameras that nothing learned from. What each shows is the painter's own truth.
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
        ("7013", "92.7", 92.7),     // lit digits, coloured light
        ("7020", "25.5", 25.5),     // dots
        ("7021", "08.9", 8.9),      // a leading nought
        ("7022", "-12.37", -12.37), // sign
        ("7030", "2686.99", 2686.99),
        ("7034", "-1.61", -1.61),
        ("7102", "-5.99", -5.99), // dark on light, aslant
    ] {
        let reading = read(name).unwrap_or_else(|why| panic!("{name}: {why}"));
        assert_eq!(reading.text, text, "{name}");
        assert_eq!(reading.value, Some(value), "{name}");
        assert!(!reading.over_range && reading.p > 0.9, "{name}");
    }
}

#[test]
fn over_range_is_no_number_and_is_read() {
    let reading = read("7101").expect("read");
    assert_eq!((reading.text.as_str(), reading.value), ("O.L", None));
    assert!(reading.over_range && reading.p > 0.9);
}

#[test]
fn what_is_no_number_or_in_doubt_is_not_read() {
    for (name, why) in [
        ("7017", Unread::NoNumber), // letters
        ("7032", Unread::Doubtful), // glare over a digit: 158, of which 1?8 is left
        ("7023", Unread::Doubtful), // the row goes on beyond the border
    ] {
        assert_eq!(read(name).expect_err(name), why, "{name}");
    }
    // A meter's body without a display.
    assert!(read("7019").is_err());
}

#[test]
fn the_row_is_where_it_was_drawn() {
    // The painter's corners of 7102, in the photo's own px.
    let reading = read("7102").expect("read");
    let want = [
        [174.2, 508.1],
        [393.8, 486.0],
        [391.0, 545.5],
        [169.4, 565.1],
    ];
    for (have, want) in reading.corners_px.iter().zip(want) {
        let off = (have[0] - want[0]).hypot(have[1] - want[1]);
        // A seventh of the row's 59 px.
        assert!(off < 8.4, "{have:?} {want:?}");
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
