//! Writes an invented report, to look at:
//! `sample_report OUT.html|OUT.pdf [PHOTO...] [--letter] [--lang TAG] [--without FIELD]`.
//!
//! The photos are shrunk and re-encoded, and stand in the places of the sample's: a
//! patch, a magnet, the pan, the patch after the magnet; more are added. The close-ups
//! are of the first, the demo's patch-06.jpg. Without photos the report says that they
//! are not in the file.
//! `--without` empties a field of the content (`wear`, `fluid.swatches`), to see that
//! its absence is noticed. The same arguments give the same bytes.

use std::error::Error;
use std::path::{Path, PathBuf};
use std::time::Instant;

use image::imageops::FilterType;
use serde_json::Value;
use swarfbook_job::id::Sha256Hex;
use swarfbook_report::content::{Content, Photos};
use swarfbook_report::{Paper, render, render_pdf};

#[path = "../tests/common/mod.rs"]
mod sample;

/// Width and height of a close-up, px.
const SIDE: u32 = 240;

#[derive(Default)]
struct Asked {
    out: PathBuf,
    photos: Vec<PathBuf>,
    letter: bool,
    lang: Option<String>,
    without: Option<String>,
}

fn main() -> Result<(), Box<dyn Error>> {
    let asked = asked()?;
    let mut content = sample::content();
    let mut photos = Photos::new();
    for (at, path) in asked.photos.iter().enumerate() {
        show(&mut content, &mut photos, at, shrunk(path)?);
    }
    if let Some(path) = asked.photos.first() {
        close_ups(&mut content, &mut photos, path)?;
    }
    if let Some(lang) = asked.lang {
        content.lang = lang;
    }
    if let Some(field) = asked.without {
        content = without(&content, &field)?;
    }
    let paper = if asked.letter {
        Paper::Letter
    } else {
        Paper::A4
    };
    let begun = Instant::now();
    let bytes = match asked.out.extension().and_then(|form| form.to_str()) {
        Some("pdf") => render_pdf(&content, &photos, paper)?,
        _ => render(&content, &photos)?.into_bytes(),
    };
    let took = begun.elapsed();
    std::fs::write(&asked.out, &bytes)?;
    println!("{} bytes, {} ms", bytes.len(), took.as_millis());
    Ok(())
}

fn asked() -> Result<Asked, Box<dyn Error>> {
    let mut asked = Asked::default();
    let mut arguments = std::env::args().skip(1);
    asked.out = arguments
        .next()
        .ok_or("say where to write: OUT.html or OUT.pdf")?
        .into();
    while let Some(word) = arguments.next() {
        match word.as_str() {
            "--letter" => asked.letter = true,
            "--lang" => asked.lang = arguments.next(),
            "--without" => asked.without = arguments.next(),
            photo => asked.photos.push(photo.into()),
        }
    }
    Ok(asked)
}

/// Three pieces of the first photo: the square around each in its pixels (left, top, side), and
/// an outline a little outside it in ten-thousandths of that. Class and length of the sample's are invented.
const PIECES: [([u32; 3], &[[u16; 2]]); 3] = [
    (
        [836, 844, 32],
        &[
            [5452, 1827],
            [5906, 1827],
            [5906, 2281],
            [6812, 2281],
            [6812, 2735],
            [7719, 2735],
            [7719, 3188],
            [8173, 3188],
            [8173, 4548],
            [8625, 4548],
            [8625, 5906],
            [8173, 5906],
            [8173, 6360],
            [7265, 6360],
            [7265, 7719],
            [5906, 7719],
            [5906, 8173],
            [4548, 8173],
            [4548, 7719],
            [4094, 7719],
            [4094, 7265],
            [3188, 7265],
            [3188, 6812],
            [2735, 6812],
            [2735, 6360],
            [2281, 6360],
            [2281, 5452],
            [1827, 5452],
            [1827, 5000],
            [1375, 5000],
            [1375, 4094],
            [2281, 4094],
            [2281, 3188],
            [3188, 3188],
            [3188, 2735],
            [4548, 2735],
            [4548, 2281],
            [5452, 2281],
        ],
    ),
    (
        [1419, 970, 22],
        &[
            [4340, 1704],
            [5000, 1704],
            [5000, 2364],
            [6978, 2364],
            [6978, 3022],
            [8296, 3022],
            [8296, 6318],
            [6978, 6318],
            [6978, 6978],
            [6318, 6978],
            [6318, 7636],
            [4340, 7636],
            [4340, 6978],
            [3022, 6978],
            [3022, 6318],
            [2364, 6318],
            [2364, 5660],
            [1704, 5660],
            [1704, 3022],
            [3022, 3022],
            [3022, 2364],
            [4340, 2364],
        ],
    ),
    (
        [1452, 1326, 26],
        &[
            [3885, 1653],
            [5558, 1653],
            [5558, 2212],
            [6115, 2212],
            [6115, 3327],
            [6673, 3327],
            [6673, 3885],
            [6115, 3885],
            [6115, 5000],
            [6673, 5000],
            [6673, 6115],
            [7230, 6115],
            [7230, 6673],
            [6673, 6673],
            [6673, 7230],
            [6115, 7230],
            [6115, 7788],
            [5558, 7788],
            [5558, 8347],
            [3885, 8347],
            [3885, 7788],
            [3327, 7788],
            [3327, 6673],
            [2770, 6673],
            [2770, 6115],
            [2212, 6115],
            [2212, 5558],
            [2770, 5558],
            [2770, 4442],
            [3327, 4442],
            [3327, 2212],
            [3885, 2212],
        ],
    ),
];

/// The three as close-ups.
fn close_ups(
    content: &mut Content,
    photos: &mut Photos,
    path: &Path,
) -> Result<(), Box<dyn Error>> {
    let picture = image::open(path)?.to_rgb8();
    let mut copies = Vec::new();
    for ([left, top, side], _) in PIECES {
        let square = image::imageops::crop_imm(&picture, left, top, side, side).to_image();
        // As large as a close-up of the report.
        let square = image::imageops::resize(&square, SIDE, SIDE, FilterType::Lanczos3);
        let mut bytes = Vec::new();
        image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 85).encode_image(&square)?;
        let copy = Sha256Hex::of(&bytes);
        photos.insert(copy, bytes);
        copies.push((copy, [SIDE, SIDE]));
    }
    content.letter.close_ups = sample::close_ups(&copies);
    for (close_up, (_, outline)) in content.letter.close_ups.iter_mut().zip(PIECES) {
        close_up.points = outline.to_vec();
    }
    Ok(())
}

/// The content with one field empty; dots lead into fields of fields.
fn without(content: &Content, field: &str) -> Result<Content, Box<dyn Error>> {
    let mut tree = serde_json::to_value(content)?;
    let mut place = &mut tree;
    for name in field.split('.') {
        place = place
            .get_mut(name)
            .ok_or_else(|| format!("the content has no field {field}"))?;
    }
    *place = if place.is_array() {
        Value::Array(Vec::new())
    } else {
        Value::Null
    };
    // What pointed into it must not point into nothing.
    if field == "photos" {
        tree["deciding"] = Value::Null;
    }
    Ok(serde_json::from_value(tree)?)
}

/// At most 1200 px, JPEG, nothing but the picture.
fn shrunk(path: &Path) -> Result<(Vec<u8>, [u32; 2]), Box<dyn Error>> {
    let picture = image::open(path)?.thumbnail(1200, 1200).to_rgb8();
    let mut bytes = Vec::new();
    image::codecs::jpeg::JpegEncoder::new_with_quality(&mut bytes, 78).encode_image(&picture)?;
    Ok((bytes, [picture.width(), picture.height()]))
}

/// Puts a photo in the place of the sample's photo of that number, else adds one.
fn show(
    content: &mut Content,
    photos: &mut Photos,
    at: usize,
    (bytes, size_px): (Vec<u8>, [u32; 2]),
) {
    let copy = Sha256Hex::of(&bytes);
    photos.insert(copy, bytes);
    while content.photos.len() <= at {
        content.photos.extend(content.photos.last().cloned());
    }
    if let Some(photo) = content.photos.get_mut(at) {
        photo.copy = Some(copy);
        photo.size_px = size_px;
        photo.rendered = true;
    }
}
