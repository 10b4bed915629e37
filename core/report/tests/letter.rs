//! The letter's shape on paper: two pages, then the annex; no page half empty.
#![allow(clippy::unwrap_used)] // helpers are not #[test] functions

mod common;
#[path = "common/photos.rs"]
mod photos;

use lopdf::{Document, Object};
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

fn report(lang: &str) -> (Content, Photos) {
    let mut content = common::content();
    content.lang = lang.into();
    let jpeg = |[wide, high]: [u32; 2], shade: u8| {
        photos::encoded(&image::RgbImage::from_pixel(
            wide,
            high,
            image::Rgb([shade; 3]),
        ))
    };
    let (mut content, mut photos) = photos::with_photos(content, |shade| jpeg([120, 90], shade));
    // As tall as they come: squares.
    let copies: Vec<(Sha256Hex, [u32; 2])> = (90..93)
        .map(|shade| {
            let bytes = jpeg([90, 90], shade);
            let copy = Sha256Hex::of(&bytes);
            photos.insert(copy, bytes);
            (copy, [90, 90])
        })
        .collect();
    content.letter.close_ups = common::close_ups(&copies);
    (content, photos)
}

fn letters(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).collect()
}

#[test]
fn the_letter_has_two_pages_and_the_annex_begins_on_the_third() {
    for (lang, mended, measured, annex) in [
        ("en", "Was it mended?", "What we measured", "Annex"),
        (
            "de",
            "Ist der Fehler behoben?",
            "Was wir gemessen haben",
            "Anhang",
        ),
    ] {
        let (content, photos) = report(lang);
        for paper in [Paper::A4, Paper::Letter] {
            let file = render_pdf(&content, &photos, paper).unwrap();
            let document = Document::load_mem(&file).unwrap();
            let text = |page| letters(&document.extract_text(&[page]).unwrap());
            assert!(text(1).contains(&letters(mended)), "{lang} {paper:?}");
            assert!(text(2).starts_with(&letters(measured)), "{lang} {paper:?}");
            assert!(text(3).starts_with(&letters(annex)), "{lang} {paper:?}");
        }
    }
}

/// Long texts of others are cut on the letter, and stand whole in the annex.
#[test]
fn long_texts_leave_the_letter_its_two_pages() {
    let (mut content, photos) = report("en");
    let long = "and then it went on to do the very same thing once more ".repeat(30);
    content
        .complaint
        .as_mut()
        .unwrap()
        .said
        .words
        .clone_from(&long);
    content.letter.found[0].words.clone_from(&long);
    content.not_done[0].reason.clone_from(&long);
    content.letter.measured[0].meaning.clone_from(&long);
    let file = render_pdf(&content, &photos, Paper::A4).unwrap();
    let document = Document::load_mem(&file).unwrap();
    let third = letters(&document.extract_text(&[3]).unwrap());
    assert!(third.starts_with("Annex"), "{third}");
    assert!(render(&content, &photos).unwrap().contains(long.trim()));
}

/// How far down each page words stand, as a part of its height.
fn fills(document: &Document) -> Vec<f64> {
    let number = |object: &Object| f64::from(object.as_float().unwrap());
    document
        .get_pages()
        .into_values()
        .map(|page| {
            let content = document.get_and_decode_page_content(page).unwrap();
            let media = document.get_dictionary(page).unwrap();
            let media = media.get(b"MediaBox").unwrap().as_array().unwrap();
            let height = number(&media[3]);
            let mut lowest: f64 = 0.0;
            for operation in content.operations {
                // Our writer turns the page once: y runs down.
                if operation.operator == "Tm" {
                    let y = number(&operation.operands[5]).abs();
                    if y < height - 40.0 {
                        lowest = lowest.max(y);
                    }
                }
            }
            lowest / height
        })
        .collect()
}

#[test]
fn no_page_but_the_last_is_half_empty() {
    for lang in ["en", "de"] {
        let (content, photos) = report(lang);
        for paper in [Paper::A4, Paper::Letter] {
            let file = render_pdf(&content, &photos, paper).unwrap();
            let fills = fills(&Document::load_mem(&file).unwrap());
            let (_, others) = fills.split_last().unwrap();
            assert!(
                others.iter().all(|fill| *fill > 0.5),
                "{lang} {paper:?}: {fills:?}"
            );
        }
    }
}

/// The file says of itself that it is PDF/A-3 (ISO 19005-3) and PDF/UA-1 (ISO 14289-1); that
/// krilla's validators let it be written is all that we can check of it here.
#[test]
fn it_states_both_standards_and_has_a_colour_profile() {
    let (content, photos) = report("en");
    let file = render_pdf(&content, &photos, Paper::A4).unwrap();
    let document = Document::load_mem(&file).unwrap();
    let catalog = document.catalog().unwrap();
    assert!(catalog.has(b"OutputIntents"));
    let xmp = catalog.get(b"Metadata").unwrap();
    let xmp = document.dereference(xmp).unwrap().1.as_stream().unwrap();
    let xmp = xmp
        .decompressed_content()
        .unwrap_or_else(|_| xmp.content.clone());
    let xmp = String::from_utf8_lossy(&xmp);
    assert!(
        xmp.contains("pdfaid:part>3<") || xmp.contains("pdfaid:part=\"3\""),
        "{xmp}"
    );
    assert!(xmp.contains("pdfuaid:part"), "{xmp}");
}
