//! Pictures in print: 300 dots an inch, as the letter's page was asked for, or all that the photo
//! has. Sizes are those of the PDF's own images, through the matrices by which it shows them.
#![cfg(feature = "demo")]
#![allow(clippy::expect_used, clippy::panic)] // in helpers of tests, too

mod bay;
mod carried;

use std::collections::BTreeMap;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use lopdf::{Document, Object};
use serde_json::Value;
use swarfbook_app::command::{Command, Sheet};
use swarfbook_app::reply::Reply;
use swarfbook_job::fact::LeaveOut;
use swarfbook_job::id::Sha256Hex;

const DOTS_PER_INCH: f64 = 300.0;
const POINTS_PER_INCH: f64 = 72.0;

/// An image of a PDF: the hash of its JPEG, and how many dots an inch it is shown with.
struct Shown {
    copy: String,
    dots: f64,
}

fn shown(document: &Document) -> Vec<Shown> {
    let mut all = Vec::new();
    for page in document.get_pages().into_values() {
        let content = document.get_and_decode_page_content(page).expect("content");
        let images = images(document, page);
        // Each is shown right behind the matrix that gives its unit square a size.
        let mut width = 0.0;
        for operation in content.operations {
            match operation.operator.as_str() {
                "cm" => {
                    let [a, b] = [0, 1].map(|at| number(&operation.operands[at]));
                    width = a.hypot(b);
                }
                "Do" => {
                    let name = operation.operands[0].as_name().expect("a name");
                    let Some((copy, px)) = images.get(name) else {
                        continue;
                    };
                    let dots = px * POINTS_PER_INCH / width;
                    let copy = copy.clone();
                    all.push(Shown { copy, dots });
                }
                _ => {}
            }
        }
    }
    all
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().expect("a number"))
}

/// The images that a page names: the hash and the width of each.
fn images(document: &Document, page: lopdf::ObjectId) -> BTreeMap<Vec<u8>, (String, f64)> {
    let page = document.get_dictionary(page).expect("a page");
    let inside = |object: &Object| document.dereference(object).expect("there").1.clone();
    let resources = inside(page.get(b"Resources").expect("resources"));
    let resources = resources.as_dict().expect("resources");
    let Ok(named) = resources.get(b"XObject") else {
        return BTreeMap::new();
    };
    let named = inside(named);
    let named = named.as_dict().expect("names").iter();
    named
        .filter_map(|(name, object)| {
            let image = inside(object);
            let image = image.as_stream().expect("a stream");
            let wide = image.dict.get(b"Width").ok()?;
            let copy = Sha256Hex::of(&image.content).to_string();
            Some((name.clone(), (copy, number(wide))))
        })
        .collect()
}

/// The copies that are cut out of a photo as it was taken, none of its dots given up.
fn whole_cuts(content: &Value) -> Vec<String> {
    let photos = content["photos"].as_array().expect("photos");
    let close_ups = content["letter"]["close_ups"].as_array().expect("a list");
    let whole = close_ups.iter().filter(|one| {
        let photo = photos.iter().find(|photo| photo["entry"] == one["photo"]);
        let photo = photo.expect("its photo is in the report");
        !one["px_per_mm"].is_null() && one["px_per_mm"] == photo["px_per_mm"]
    });
    whole
        .map(|one| one["copy"].as_str().expect("a hash").to_owned())
        .collect()
}

#[test]
fn pictures_are_sharp_in_print_or_as_sharp_as_the_photo() {
    let (_dir, app, jobs) = bay::demo();
    let (mut sharp, mut cuts) = (0, 0);
    for job in jobs {
        let (leave_out, language) = (LeaveOut::default(), None);
        let page = app.call(Command::MakeReport {
            job,
            leave_out,
            language,
        });
        let Ok(Reply::Report { html, .. }) = page else {
            panic!("{page:?}")
        };
        let whole = whole_cuts(&carried::content(&html));
        for sheet in [Sheet::A4, Sheet::Letter] {
            let print = app.call(Command::MakeReportPdf {
                job,
                sheet,
                leave_out,
                language,
            });
            let Ok(Reply::ReportPdf { base64, .. }) = print else {
                panic!("no print")
            };
            let bytes = STANDARD.decode(base64).expect("base64");
            let document = Document::load_mem(&bytes).expect("reads");
            for Shown { copy, dots } in shown(&document) {
                if dots >= DOTS_PER_INCH {
                    sharp += 1;
                } else {
                    assert!(whole.contains(&copy), "{job}: {dots} dots an inch");
                    cuts += 1;
                }
            }
        }
    }
    assert!(sharp >= 12 && cuts >= 6, "{sharp} sharp, {cuts} cut out");
}
