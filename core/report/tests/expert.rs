//! What an expert asks of a report (ISO/IEC 17025:2017, 7.8, and the reporting of ISO 16232),
//! point by point: each is met in the page and on paper, or the list says why it can't be.
//! The points are from memory of these standards.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;
#[path = "common/photos.rs"]
mod photos;

use lopdf::Document;
use scraper::{Html, Selector};
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

enum Answer {
    /// These words stand in both.
    Says(&'static [&'static str]),
    /// What is not there, and why.
    Not(&'static str),
}
use Answer::{Not, Says};

const POINTS: [(&str, Answer); 21] = [
    ("number of the report", Says(&["No. 260512-0007-4BFC65"])),
    (
        "shop's address",
        Says(&["Hollow Lane Gearbox Works", "1 Hollow Lane, Nowhere"]),
    ),
    (
        "signatory",
        Says(&["Signed", "A. Sample", "Day and signature of the technician"]),
    ),
    ("time with zone", Says(&["12 May 2026, 12:30 (UTC+2)"])),
    ("item", Says(&["NO WH 123", "Estate car"])),
    (
        "instruments with serial number and calibration",
        Says(&["INV-0042", "2026-02-11", "not stated"]),
    ),
    ("conditions", Says(&["Part at 22 °C; oil at 41 °C"])),
    ("coverage", Says(&["k = 2"])),
    ("decision rule", Says(&["at least 95 % likely (JCGM 106)"])),
    (
        "guard band beside each verdict",
        Says(&[
            "± 0.6 ohm (k = 2)",
            "a guard band of 0.49 ohm inside each limit",
        ]),
    ),
    (
        "lens and distance",
        Says(&[
            "focal length 4.2 mm",
            "Distance from lens to ground: about 220 mm",
        ]),
    ),
    ("how the scale was had", Says(&["by the printed card"])),
    (
        "check of the printed card's size",
        Says(&["150.0 mm, 2026-05-02"]),
    ),
    (
        "who corrected what",
        Says(&["piece of 0.84 mm at 912, 433 px: the machine said lining; A. Sample says grit"]),
    ),
    (
        "the machine's count beside the technician's",
        Says(&[
            "Pieces by the machine: 23",
            "By the machine",
            "After correction",
        ]),
    ),
    (
        "pieces by material and size",
        Says(&["Longest side", "Of these", "steel flake"]),
    ),
    (
        "blank or clean reference",
        Says(&["No blank sample was taken"]),
    ),
    (
        "method and version",
        Says(&["hazard-1", "version 1", "Swarfbook 0.1.0"]),
    ),
    (
        "what may not be concluded",
        Says(&["What must not be concluded"]),
    ),
    (
        "temperature and moisture of the room",
        Not(
            "No step asks for them: a lift stands in a hall, and the parts' own temperature is what counts.",
        ),
    ),
    (
        "alloy of the pieces",
        Not("A photo can't show it; a laboratory can, and the report says that none has looked."),
    ),
];

fn report() -> (Content, Photos) {
    let jpeg = |shade: u8| {
        photos::encoded(&image::RgbImage::from_pixel(
            120,
            90,
            image::Rgb([shade; 3]),
        ))
    };
    let (mut content, mut photos) = photos::with_photos(common::content(), jpeg);
    let copies: Vec<(Sha256Hex, [u32; 2])> = (90..93)
        .map(|shade| {
            let bytes = jpeg(shade);
            let copy = Sha256Hex::of(&bytes);
            photos.insert(copy, bytes);
            (copy, [120, 90])
        })
        .collect();
    content.letter.close_ups = common::close_ups(&copies);
    (content, photos)
}

fn letters(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

#[test]
fn each_point_is_met_or_the_list_says_why_not() {
    let (content, photos) = report();
    let page = render(&content, &photos).unwrap();
    let words: String = Html::parse_document(&page)
        .select(&Selector::parse("body").unwrap())
        .flat_map(|body| body.text().collect::<Vec<_>>())
        .collect();
    let page = letters(&words);
    let file = render_pdf(&content, &photos, Paper::A4).unwrap();
    let document = Document::load_mem(&file).unwrap();
    let numbers: Vec<u32> = document.get_pages().into_keys().collect();
    let paper = letters(&document.extract_text(&numbers).unwrap());
    for (point, answer) in &POINTS {
        match answer {
            Says(all) => {
                for words in *all {
                    let words = letters(words);
                    assert!(page.contains(&words), "{point}: {words} not in the page");
                    assert!(paper.contains(&words), "{point}: {words} not on paper");
                }
            }
            Not(why) => assert!(why.len() > 40, "{point}: say why"),
        }
    }
}

#[test]
fn every_page_has_number_car_day_and_its_place() {
    let (content, photos) = report();
    for paper in [Paper::A4, Paper::Letter] {
        let file = render_pdf(&content, &photos, paper).unwrap();
        let document = Document::load_mem(&file).unwrap();
        let pages: Vec<u32> = document.get_pages().into_keys().collect();
        let all = pages.len();
        for (at, page) in pages.iter().enumerate() {
            let text = letters(&document.extract_text(&[*page]).unwrap());
            let place = format!("Page {} of {all}", at + 1);
            for words in [
                content.letter.number.as_str(),
                "12 May 2026",
                "NO WH 123",
                &place,
            ] {
                assert!(text.contains(&letters(words)), "{words} on page {}", at + 1);
            }
        }
    }
}

/// A bar of a round length in each photo and each close-up that has a scale.
#[test]
fn every_picture_with_a_scale_has_its_bar() {
    let (content, photos) = report();
    let page = Html::parse_document(&render(&content, &photos).unwrap());
    let layers = Selector::parse(".frame svg").unwrap();
    let words = Selector::parse("text").unwrap();
    let bars = page.select(&layers).filter(|layer| {
        layer
            .select(&words)
            .any(|text| text.text().collect::<String>().ends_with(" mm"))
    });
    assert_eq!(bars.count(), content.photos.len() + 3);
}

#[test]
fn every_photo_is_named_by_its_hash() {
    let (content, photos) = report();
    let page = render(&content, &photos).unwrap();
    for photo in &content.photos {
        assert!(page.contains(&photo.photo.to_string()));
    }
}
